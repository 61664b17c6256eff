//! From plain YAML to data of a known shape, past every fault of it.
//!
//! A type stops reading at its first fault. So the fault is told of, cut out of what is read, and the type reads
//! again, until it meets none: faults that do not hang together are all told of, and what is sound is there to be
//! gone by. The YAML data library is named here and below only.

mod cuts;
mod fault;
mod node;
mod tree;
mod wild;

use serde::de::DeserializeOwned;

use super::{Gated, MOST_TOLD, syntax, too_many, wording};
use crate::finding::{Code, Draft, Findings, On, Place, Said};
use cuts::Cuts;
pub(super) use fault::{Fault, What};
use node::Node;
use tree::Tree;

/// What came of reading a document as data of a known shape.
#[derive(Debug)]
pub(crate) struct Shaped<T> {
    /// The data, with something in the place of what is faulty; none where nothing can stand for it.
    pub(crate) body: Result<T, Said>,
    /// Pointers of what is faulty or missing.
    pub(crate) faulty: Vec<String>,
    /// What there is to report.
    pub(crate) findings: Findings,
}

/// Reads a gated document; every fault becomes a finding.
pub(super) fn read<T: DeserializeOwned>(gated: &Gated) -> Shaped<T> {
    let (mut findings, mut faulty, mut cuts) = (Findings::new(), Vec::new(), Cuts::default());
    let tree: Tree = match serde_yaml::from_str(gated.source().text()) {
        Ok(tree) => tree,
        Err(error) => {
            let body = Err(findings.push(two_minds(gated, &error)));
            return Shaped { body, faulty, findings };
        }
    };
    let mut told = None;
    let body = loop {
        let fault = match T::deserialize(Node::of(&tree.0, &cuts)) {
            Ok(body) => break Ok(body),
            Err(fault) => fault,
        };
        let said = match told {
            Some(said) if fault.is_of_a_stand_in() => said,
            _ => {
                faulty.push(fault.about());
                findings.push(wording::draft(gated, &fault))
            }
        };
        if findings.len() >= MOST_TOLD {
            let at = gated.place(&fault.pointer(), On::Key).span().start;
            break Err(findings.push(too_many(gated.source(), at, MOST_TOLD)));
        }
        if !cuts.add(&fault) {
            break Err(said);
        }
        told = Some(said);
    };
    Shaped { body, faulty, findings }
}

/// The gate and the data library disagree about a text: the stricter wins.
fn two_minds(gated: &Gated, error: &serde_yaml::Error) -> Draft {
    let source = gated.source();
    let at = error.location().map_or(0, |at| source.offset(at.line(), at.column()));
    let tab = source.text().get(at..).is_some_and(|rest| rest.starts_with('\t'));
    let (title, help) = if tab {
        (syntax::TAB.to_owned(), syntax::NO_TAB)
    } else {
        // The place is shown already; what is left of the message is the matter.
        let message = error.to_string();
        let matter = message.split(" at line ").next().unwrap_or_default();
        (format!("not plain YAML here: {matter}"), "write it more plainly, or put the text in quotes")
    };
    Draft::at(Code::BadYaml, Place::new(source.clone(), at..at + 1), title).help(help)
}
