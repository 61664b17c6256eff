//! Connections that nobody can read along, and the proof of who answers at the other end.

use super::address::{Link, Roots};
use crate::store::fault::Fault;
use rustls::client::danger::{HandshakeSignatureValid, ServerCertVerified, ServerCertVerifier};
use rustls::client::verify_server_cert_signed_by_trust_anchor;
use rustls::crypto::{WebPkiSupportedAlgorithms, ring, verify_tls12_signature, verify_tls13_signature};
use rustls::pki_types::pem::PemObject as _;
use rustls::pki_types::{CertificateDer, ServerName, UnixTime};
use rustls::server::ParsedCertificate;
use rustls::{ClientConfig, DigitallySignedStruct, Error, RootCertStore, SignatureScheme};
use std::path::Path;
use std::sync::Arc;
use tokio_postgres_rustls::MakeRustlsConnect;

/// What the protocol is called where it is chosen at the first word (`PostgreSQL`, "SSL Session Encryption").
const PROTOCOL: &[u8] = b"postgresql";

/// What makes the connection that an address asks for.
///
/// # Errors
/// The certificates to hold the server's against cannot be read.
pub(super) fn maker(link: &Link) -> Result<MakeRustlsConnect, Fault> {
    let provider = Arc::new(ring::default_provider());
    let algorithms = provider.signature_verification_algorithms;
    let build = ClientConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .map_err(|error| Fault::Address { why: error.to_string() })?;
    let whatever_its_name = |roots| {
        let verifier = Arc::new(WhateverItsName { roots, algorithms });
        build.clone().dangerous().with_custom_certificate_verifier(verifier)
    };
    let proof = match link {
        Link::Plain | Link::EncryptedIfItCan | Link::Encrypted => whatever_its_name(None),
        Link::Signed(roots) => whatever_its_name(Some(read(roots)?)),
        Link::SignedAndNamed(roots) => build.with_root_certificates(read(roots)?),
    };
    let mut config = proof.with_no_client_auth();
    config.alpn_protocols = vec![PROTOCOL.to_vec()];
    Ok(MakeRustlsConnect::new(config))
}

fn read(roots: &Roots) -> Result<RootCertStore, Fault> {
    match roots {
        Roots::File(file) => in_file(file),
        Roots::System => of_this_machine(),
    }
}

fn in_file(file: &Path) -> Result<RootCertStore, Fault> {
    let fault = |why: String| Fault::Address {
        why: format!(
            "the certificates in `{}` (sslrootcert) cannot be read: {why}. Name a file of the form PEM, with \
             `BEGIN CERTIFICATE` in it",
            file.display()
        ),
    };
    let mut store = RootCertStore::empty();
    for certificate in CertificateDer::pem_file_iter(file).map_err(|error| fault(error.to_string()))? {
        let certificate = certificate.map_err(|error| fault(error.to_string()))?;
        store.add(certificate).map_err(|error| fault(error.to_string()))?;
    }
    if store.is_empty() { Err(fault("there is none in it".to_owned())) } else { Ok(store) }
}

/// Those that cannot be read are left out: a machine has many, and the server's is signed by one.
fn of_this_machine() -> Result<RootCertStore, Fault> {
    let mut store = RootCertStore::empty();
    store.add_parsable_certificates(rustls_native_certs::load_native_certs().certs);
    if store.is_empty() {
        let why = "this machine has no certificates that it trusts (sslrootcert=system): name a file in place of \
                   `system`";
        return Err(Fault::Address { why: why.to_owned() });
    }
    Ok(store)
}

/// Asks by whom the server's certificate is signed, if anything, and not to whom it is made out. That the server has the
/// key of the certificate that it shows is proved all the same.
#[derive(Debug)]
struct WhateverItsName {
    /// None where whoever answers will do.
    roots: Option<RootCertStore>,
    algorithms: WebPkiSupportedAlgorithms,
}

impl ServerCertVerifier for WhateverItsName {
    fn verify_server_cert(
        &self,
        certificate: &CertificateDer<'_>,
        between: &[CertificateDer<'_>],
        _name: &ServerName<'_>,
        _ocsp: &[u8],
        now: UnixTime,
    ) -> Result<ServerCertVerified, Error> {
        if let Some(roots) = &self.roots {
            let certificate = ParsedCertificate::try_from(certificate)?;
            verify_server_cert_signed_by_trust_anchor(
                &certificate,
                roots,
                between,
                now,
                self.algorithms.all,
            )?;
        }
        Ok(ServerCertVerified::assertion())
    }

    fn verify_tls12_signature(
        &self,
        message: &[u8],
        certificate: &CertificateDer<'_>,
        signed: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        verify_tls12_signature(message, certificate, signed, &self.algorithms)
    }

    fn verify_tls13_signature(
        &self,
        message: &[u8],
        certificate: &CertificateDer<'_>,
        signed: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        verify_tls13_signature(message, certificate, signed, &self.algorithms)
    }

    fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
        self.algorithms.supported_schemes()
    }
}
