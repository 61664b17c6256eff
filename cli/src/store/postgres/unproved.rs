//! Why no encrypted connection came about, and how to mend it.

use crate::store::fault::Fault;
use rustls::CertificateError;
use std::error::Error as _;

/// How a certificate is made that does.
const MADE_ANEW: &str =
    "have one made for the name in the address, as the README shows (subjectAltName, CA:FALSE)";

/// The fault of a connection that was to be encrypted; none where something else went wrong.
pub(super) fn fault(error: &postgres::Error, place: &str) -> Option<Fault> {
    let source = error.source()?;
    if source.to_string() == "server does not support TLS" {
        return Some(Fault::NoEncryption { place: place.to_owned() });
    }
    let within = source.downcast_ref::<std::io::Error>()?.get_ref()?;
    let (why, how) = match within.downcast_ref::<rustls::Error>()? {
        rustls::Error::InvalidCertificate(wrong) => certificate(wrong),
        other => (other.to_string(), "Check the server's own log".to_owned()),
    };
    Some(Fault::Unproved { place: place.to_owned(), why, how })
}

/// What is wrong with a server's certificate, and how to mend it.
fn certificate(wrong: &CertificateError) -> (String, String) {
    match wrong {
        // The second where another has the same name.
        CertificateError::UnknownIssuer | CertificateError::BadSignature => (
            "its certificate is signed by none of those named with sslrootcert".to_owned(),
            "Ask whoever keeps the server for the certificate that signed its own, and name that file; if it is that \
             file, somebody else is answering in the server's place"
                .to_owned(),
        ),
        CertificateError::NotValidForNameContext { expected, presented } => {
            // They come as `DnsName("desk")`.
            let bare = |name: &String| name.split('"').nth(1).unwrap_or(name).to_owned();
            let names: Vec<_> = presented.iter().map(bare).collect();
            let to = if names.is_empty() { "no name".to_owned() } else { names.join(" and ") };
            (
                format!("its certificate is made out to {to}, not to {}", expected.to_str()),
                format!(
                    "Write the name that it is made out to in the address, with hostaddr=NUMBER behind it where that name \
                     leads nowhere; or {MADE_ANEW}. If neither can be, somebody else may be answering in its place"
                ),
            )
        }
        CertificateError::Expired | CertificateError::ExpiredContext { .. } => (
            "its certificate has run out".to_owned(),
            "Have it renewed; or, if it has not, set the clock of this machine".to_owned(),
        ),
        CertificateError::NotValidYet | CertificateError::NotValidYetContext { .. } => (
            "its certificate is not valid yet".to_owned(),
            "Set the clock of this machine, or that of the server's".to_owned(),
        ),
        other => {
            // The library has no public name for these two.
            let told = format!("{other:?}");
            let why = if told.contains("CaUsedAsEndEntity") {
                "its certificate is one to sign others with, and none of a server".to_owned()
            } else if told.contains("UnsupportedCertVersion") {
                "its certificate is of version 1, which says nothing of whom it is for".to_owned()
            } else {
                format!("its certificate is refused ({told})")
            };
            (why, capital(MADE_ANEW))
        }
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
