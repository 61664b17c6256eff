//! Documents as they are written, each told apart by its top-level key.
//!
//! Nothing here knows whether a name exists: that is for resolving.

pub(crate) mod blank;
pub(crate) mod call;
pub(crate) mod catalogue;
pub(crate) mod flaws;
pub(crate) mod power;
pub(crate) mod relation;
pub(crate) mod tree;
mod unread;

use crate::finding::{Code, Draft, Findings, On, Place, Reported, Said, listed, near};
use crate::gate::Gated;
use crate::mend::{self, Judge, Mended};
use crate::source::Source;
use flaws::Flaws;
use serde::de::DeserializeOwned;
pub use unread::{cases_left_unread, left_unread};

/// A document with the file it was read from.
#[derive(Debug)]
pub(crate) struct Doc<T> {
    pub(crate) gated: Gated,
    pub(crate) body: T,
}

/// Every document of a rules folder, read but not yet understood.
#[derive(Debug, Default)]
pub struct Parsed {
    pub(crate) calls: Vec<Doc<call::CallFile>>,
    pub(crate) powers: Vec<Doc<power::PowerFile>>,
    pub(crate) readings: Vec<Doc<catalogue::ReadingsDoc>>,
    pub(crate) deeds: Vec<Doc<catalogue::DeedsDoc>>,
    pub(crate) endings: Vec<Doc<catalogue::EndingsDoc>>,
    pub(crate) profiles: Vec<Doc<catalogue::ProfilesDoc>>,
    pub(crate) relations: Vec<Doc<relation::RelationsDoc>>,
    pub(crate) workings: Vec<Doc<catalogue::WorkingsDoc>>,
    pub(crate) trees: Vec<Doc<tree::TreeDoc>>,
    pub(crate) flaws: Flaws,
}

/// The kinds of rule file, by their top-level key.
pub(crate) const KINDS: [&str; 9] =
    ["call", "power", "readings", "deeds", "endings", "profiles", "relations", "workings", "tree"];

/// The key at the top of a case.
const CASE: &str = "case";

/// Cases among rules that are shown beside the first.
const MOST_CASES: usize = 4;

impl Parsed {
    /// Reads files into documents. One with faults is read past them where what others may name is known all
    /// the same; they are told of with what resolving finds.
    ///
    /// # Errors
    /// Every fault, where a file cannot be read, is of no known kind, or what others may name cannot be told.
    pub(crate) fn read(sources: impl IntoIterator<Item = Source>) -> Result<Self, Reported> {
        let (mut parsed, mut said) = (Self::default(), None);
        let mut cases = Vec::new();
        for source in sources {
            let gated = Gated::check(source.clone());
            if let Some(draft) = gated.as_ref().ok().and_then(second_kind) {
                said = Some(parsed.flaws.tell(draft));
                continue;
            }
            if let Some(case) = gated.as_ref().ok().filter(|gated| is_case(gated)) {
                cases.push(case.clone());
                continue;
            }
            let whole = gated.is_ok_and(|gated| parsed.take(gated, None) == Ok(Taken::Whole));
            if !whole {
                said = said.or(parsed.take_mended(source).err());
            }
        }
        if let Some(draft) = cases_among_rules(&cases) {
            said = Some(parsed.flaws.tell(draft));
        }
        match said {
            Some(said) => Err(parsed.flaws.with(Findings::new()).finish_with(said)),
            None => Ok(parsed),
        }
    }

    /// Takes a file that has faults, read past as many of them as can be.
    fn take_mended(&mut self, source: Source) -> Result<(), Said> {
        let Mended { gated, findings, about, cut } = mend::read(source, judge);
        self.flaws.note_mended(findings, about, &cut);
        self.take(gated?, Some(&cut)).map(|_| ())
    }

    /// Takes a document; one with faults only where it is known what of it is cut out.
    fn take(&mut self, gated: Gated, cut: Option<&[Place]>) -> Result<Taken, Said> {
        let kind = KINDS.into_iter().find(|kind| gated.top_keys().iter().any(|key| key == kind));
        let flaws = &mut self.flaws;
        match kind {
            Some("call") => keep(flaws, &mut self.calls, gated, cut),
            Some("power") => keep(flaws, &mut self.powers, gated, cut),
            Some("readings") => keep(flaws, &mut self.readings, gated, cut),
            Some("deeds") => keep(flaws, &mut self.deeds, gated, cut),
            Some("endings") => keep(flaws, &mut self.endings, gated, cut),
            Some("profiles") => keep(flaws, &mut self.profiles, gated, cut),
            Some("relations") => keep(flaws, &mut self.relations, gated, cut),
            Some("workings") => keep(flaws, &mut self.workings, gated, cut),
            Some(_) => keep(flaws, &mut self.trees, gated, cut),
            None if cut.is_none() => Ok(Taken::Faulty),
            None => Err(flaws.tell(unknown_kind(&gated))),
        }
    }
}

/// What came of taking a document.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Taken {
    Whole,
    /// It has faults, and was left.
    Faulty,
}

/// Keeps a document; an error where it cannot be gone on with.
fn keep<T: DeserializeOwned>(
    flaws: &mut Flaws,
    into: &mut Vec<Doc<T>>,
    gated: Gated,
    cut: Option<&[Place]>,
) -> Result<Taken, Said> {
    let mut shaped = gated.shaped();
    match cut {
        None if !shaped.findings.is_empty() => return Ok(Taken::Faulty),
        None => {}
        Some(cut) => shaped.findings.retain(|finding| !cut.iter().any(|place| finding.place().is_in(place))),
    }
    let hidden = shaped.faulty.iter().any(|pointer| hides_names(pointer));
    let body = flaws.note(&gated, shaped)?;
    if let Some(said) = flaws.said().filter(|_| hidden) {
        return Err(said);
    }
    into.push(Doc { gated, body });
    Ok(Taken::Whole)
}

/// What reads a document of the kind that a key at its top tells.
fn judge(kind: &str) -> Option<Judge> {
    fn shape<T: DeserializeOwned>(gated: &Gated) -> Findings {
        gated.shaped::<T>().findings
    }
    Some(match kind {
        "call" => shape::<call::CallFile>,
        "power" => shape::<power::PowerFile>,
        "readings" => shape::<catalogue::ReadingsDoc>,
        "deeds" => shape::<catalogue::DeedsDoc>,
        "endings" => shape::<catalogue::EndingsDoc>,
        "profiles" => shape::<catalogue::ProfilesDoc>,
        "relations" => shape::<relation::RelationsDoc>,
        "workings" => shape::<catalogue::WorkingsDoc>,
        "tree" => shape::<tree::TreeDoc>,
        _ => return None,
    })
}

/// Whether a fault leaves open what other files may name. Elsewhere it is shut up in an entry whose name is known.
fn hides_names(pointer: &str) -> bool {
    let mut steps = pointer.split('/').skip(1);
    let entries = ["readings", "deeds", "endings", "workings", "steps"];
    match (steps.next(), steps.next()) {
        (Some("call" | "power" | "tree") | None, _) => true,
        (Some(list), None) => entries.contains(&list),
        (Some(_), Some(_)) => false,
    }
}

/// What is said of a file in which a second kind of rules begins, or a case: which lines belong into which file.
fn second_kind(gated: &Gated) -> Option<Draft> {
    let is_kind = |key: &&String| KINDS.contains(&key.as_str()) || *key == CASE;
    let mut kinds: Vec<(usize, &String)> = gated
        .top_keys()
        .iter()
        .filter(is_kind)
        .map(|key| (gated.place(&format!("/{key}"), On::Key).line(), key))
        .collect();
    kinds.sort_unstable();
    let ((_, first), (_, second)) = (*kinds.first()?, *kinds.get(1)?);
    let what = if second == CASE { "a case" } else { "a second kind of rules" };
    let title = format!("{what} begins here, in a file that begins with `{first}:`");
    let last = gated.source().line_count();
    let ends = kinds.iter().skip(1).map(|(line, _)| line - 1).chain([last]);
    let parts: Vec<String> = kinds
        .iter()
        .zip(ends)
        .skip(1)
        .map(|((from, key), to)| {
            let lines = if *from >= to { format!("line {from}") } else { format!("lines {from} to {to}") };
            let folder = if *key == CASE { ", in the folder of the cases" } else { "" };
            format!("{lines}, which begin with `{key}:`{folder}")
        })
        .collect();
    let help = match parts.as_slice() {
        [one] => format!("put into a file of their own {one}"),
        all => format!("put into files of their own, one for each: {}", all.join("; ")),
    };
    let draft = Draft::new(Code::UnknownKind, gated, format!("/{second}"), On::Key, title);
    let draft = draft.also(gated, format!("/{first}"), On::Key, "the file is of this kind");
    let draft = kinds.iter().skip(2).fold(draft, |draft, (_, key)| {
        draft.also(gated, format!("/{key}"), On::Key, "and another begins here")
    });
    Some(draft.help(help))
}

/// Whether a file is a case, and no rules.
fn is_case(gated: &Gated) -> bool {
    gated.top_keys().iter().any(|key| key == CASE)
}

/// What is said of cases among rules.
fn cases_among_rules(cases: &[Gated]) -> Option<Draft> {
    let (first, others) = cases.split_first()?;
    let more = match others.len() {
        0 => String::new(),
        1 => ", and so is 1 more file".to_owned(),
        more => format!(", and so are {more} more files"),
    };
    let case = format!("/{CASE}");
    let title = format!("this is a case, and no rules{more}");
    let draft = Draft::new(Code::UnknownKind, first, &case, On::Key, title);
    let draft = others
        .iter()
        .take(MOST_CASES)
        .fold(draft, |draft, other| draft.also(other, &case, On::Key, "here too"));
    let it = if others.is_empty() { "it" } else { "them" };
    Some(
        draft.help(format!("put {it} in the folder of the cases: a folder of rules holds nothing but rules")),
    )
}

fn unknown_kind(gated: &Gated) -> Draft {
    let title = "no key at the top says what kind of rule file this is";
    let meant = gated.top_keys().iter().find_map(|key| near(key, &KINDS));
    Draft::new(Code::UnknownKind, gated, "", On::Key, title).help(match meant {
        Some(kind) => format!("did you mean `{kind}`?"),
        None => format!("start it with {}", listed(&KINDS)),
    })
}

impl Parsed {
    /// What is said of files that are only a part of rules: none of the names in them can be looked up.
    pub(crate) fn only_a_part(&self) -> Option<Draft> {
        let file = self.any_file().filter(|_| self.calls.is_empty() && self.powers.is_empty())?;
        let title = "this is only a part of the rules: no file here begins with `call:` or with `power:`";
        let help = "put it into the folder that holds all the other rules, and give that folder";
        Some(Draft::new(Code::MissingFile, file, "", On::Key, title).help(help))
    }

    /// Some file of the folder, to hang a finding on that is about what is not there.
    pub(crate) fn any_file(&self) -> Option<&Gated> {
        None.or(self.calls.first().map(|doc| &doc.gated))
            .or(self.powers.first().map(|doc| &doc.gated))
            .or(self.readings.first().map(|doc| &doc.gated))
            .or(self.endings.first().map(|doc| &doc.gated))
            .or(self.deeds.first().map(|doc| &doc.gated))
            .or(self.trees.first().map(|doc| &doc.gated))
            .or(self.profiles.first().map(|doc| &doc.gated))
            .or(self.relations.first().map(|doc| &doc.gated))
            .or(self.workings.first().map(|doc| &doc.gated))
    }
}
