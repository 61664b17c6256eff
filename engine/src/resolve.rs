//! From documents to rules: every name becomes an id, every number a quantity of the right kind.

mod at;
mod deeds;
mod facts;
mod given;
mod names;
mod power;
mod relations;
mod trees;
mod words;
mod workings;

pub(crate) use at::At;
pub(crate) use words::value_of;

use crate::finding::{Code, Draft, Findings, On, Place, Reported, Said};
use crate::gate::Gated;
use crate::parsed::{Doc, Parsed};
use crate::rulebook::{ChoiceSet, DeedId, EndingId, Fact, FactId, Rules, TreeId};
use names::Names;
use std::collections::{BTreeSet, HashMap, HashSet};

/// Rules in which every name is known, with the files that the trees came from.
#[derive(Debug)]
pub struct Resolved {
    pub(crate) rules: Rules,
    pub(crate) tree_files: Vec<Gated>,
    pub(crate) spots: Spots,
}

/// A place in a file that checks may come back to.
#[derive(Debug)]
pub(crate) struct Spot {
    pub(crate) file: Gated,
    pub(crate) pointer: String,
}

impl Spot {
    /// A finding about the thing that is given here.
    pub(crate) fn named(&self, code: Code, title: String) -> Draft {
        Draft::new(code, &self.file, &self.pointer, On::Key, title)
    }

    /// An input of the working of the fact that is given here, counted from 0.
    pub(crate) fn input(&self, input: usize) -> Place {
        // A reading has its working under a key of its own.
        let own = if self.pointer.starts_with("/workings") { "of" } else { "or else/of" };
        self.file.place(&format!("{}/{own}/{input}", self.pointer), On::Value)
    }

    /// Where the reading that is given here says what a fact is; the reading where something else does.
    pub(crate) fn gives(&self, fact: &str) -> Place {
        let pointer = format!("{}/gives/{fact}", self.pointer);
        let known = self.file.places().has(&pointer);
        self.file.place(if known { &pointer } else { &self.pointer }, On::Key)
    }

    /// The key of what is given here, or a key below it.
    pub(crate) fn place(&self, under: &str) -> Place {
        let below = if under.is_empty() { String::new() } else { format!("/{under}") };
        self.file.place(&format!("{}{below}", self.pointer), On::Key)
    }

    /// A finding about a value below this place.
    pub(crate) fn value(&self, under: &str, code: Code, title: String) -> Draft {
        Draft::new(code, &self.file, format!("{}/{under}", self.pointer), On::Value, title)
    }

    /// The value of a key below this place.
    pub(crate) fn value_of(&self, under: &str) -> Place {
        self.file.place(&format!("{}/{under}", self.pointer), On::Value)
    }

    /// A finding about a key below this place.
    pub(crate) fn draft(&self, under: &str, code: Code, title: String) -> Draft {
        Draft::new(code, &self.file, format!("{}/{under}", self.pointer), On::Key, title)
    }
}

/// Where things are given, each list in the order of its ids.
#[derive(Debug)]
pub(crate) struct Spots {
    pub(crate) facts: Vec<Spot>,
    pub(crate) deeds: Vec<Spot>,
    pub(crate) endings: Vec<Spot>,
    pub(crate) hold_offs: Vec<Spot>,
    /// Where the rules of power stand.
    pub(crate) power: Option<Spot>,
    /// Where it stands which facts and endings play which part.
    pub(crate) call: Option<Spot>,
}

impl Resolved {
    /// Resolves the documents of a rules folder.
    ///
    /// # Errors
    /// Every unknown, duplicate or missing name, every value of the wrong kind, and what was faulty in the documents.
    pub fn from_parsed(mut parsed: Parsed) -> Result<Self, Reported> {
        let flaws = std::mem::take(&mut parsed.flaws);
        let flawed = flaws.said();
        if let Some(draft) = parsed.only_a_part() {
            let mut findings = Findings::new();
            let said = findings.push(draft);
            return Err(flaws.with(findings).finish_with(said));
        }
        let mut resolver = Resolver::new(&parsed);
        let rules = resolver.rules();
        resolver.tell_renamed();
        let (spots, mut findings) = (resolver.spots(), flaws.with(resolver.findings));
        findings.fold_names();
        match (rules, flawed) {
            (Err(said), _) | (Ok(_), Some(said)) => Err(findings.finish_with(said)),
            (Ok(rules), None) => findings.finish().map(|()| Self {
                rules,
                tree_files: parsed.trees.iter().map(|doc| doc.gated.clone()).collect(),
                spots,
            }),
        }
    }
}

/// What resolving works with: the names of all kinds, and what there is to report.
///
/// A part that cannot be resolved is `Err(Said)`: a token that only reporting gives.
struct Resolver<'p> {
    parsed: &'p Parsed,
    findings: Findings,
    fact_names: Names<'p>,
    deed_names: Names<'p>,
    ending_names: Names<'p>,
    tree_names: Names<'p>,
    facts: Vec<Result<Fact, Said>>,
    /// Choices that their facts do not have, and that were told of together with all that goes by them.
    told_choices: HashSet<(FactId, String)>,
    /// Choices that something goes by, of each fact.
    used_choices: HashMap<FactId, ChoiceSet>,
    /// Choices that their facts do not have.
    lost_choices: BTreeSet<(FactId, String)>,
    /// Steps, with their trees, and trees that are not there, and were told of at all their places at once.
    told_targets: HashSet<(Option<TreeId>, String)>,
}

impl<'p> Resolver<'p> {
    fn new(parsed: &'p Parsed) -> Self {
        let mut findings = Findings::new();
        let mut fact_names = Names::new("reading");
        for doc in &parsed.readings {
            fact_names.add_all(&mut findings, &doc.gated, "readings", doc.body.readings.keys());
        }
        for doc in &parsed.workings {
            fact_names.add_all(&mut findings, &doc.gated, "workings", doc.body.workings.keys());
        }
        let mut deed_names = Names::new("deed");
        for doc in &parsed.deeds {
            deed_names.add_all(&mut findings, &doc.gated, "deeds", doc.body.deeds.keys());
        }
        let mut ending_names = Names::new("ending");
        for doc in &parsed.endings {
            ending_names.add_all(&mut findings, &doc.gated, "endings", doc.body.endings.keys());
        }
        let mut tree_names = Names::new("tree");
        for doc in &parsed.trees {
            tree_names.add(&mut findings, &doc.gated, "/tree".to_owned(), On::Value, &doc.body.tree);
        }
        Self {
            parsed,
            findings,
            fact_names,
            deed_names,
            ending_names,
            tree_names,
            facts: Vec::new(),
            told_choices: HashSet::new(),
            used_choices: HashMap::new(),
            lost_choices: BTreeSet::new(),
            told_targets: HashSet::new(),
        }
    }

    /// Resolves everything; goes on behind a finding so that all of them are reported.
    fn rules(&mut self) -> Result<Rules, Said> {
        self.facts();
        self.new_complaints();
        let power = self.power();
        let deeds = self.deeds();
        let endings = self.endings();
        let trees = self.trees();
        let relations = self.relations();
        let roles = self.roles();
        let facts = self.facts.iter().cloned().collect::<Result<Vec<_>, _>>();
        let (trees, steps) = trees?;
        Ok(Rules {
            facts: facts?,
            deeds: deeds?,
            endings: endings?,
            trees,
            steps,
            power: power?,
            relations: relations?,
            roles: roles?,
        })
    }

    fn spots(&self) -> Spots {
        let hold_offs = self.parsed.powers.iter().flat_map(|doc| {
            doc.body.power.hold_offs.keys().map(|id| {
                let top = At::top(&doc.gated);
                let power = top.key("power");
                let list = power.key("hold offs");
                Spot { file: doc.gated.clone(), pointer: list.key(id).pointer() }
            })
        });
        Spots {
            facts: self.fact_names.spots(),
            deeds: self.deed_names.spots(),
            endings: self.ending_names.spots(),
            hold_offs: hold_offs.collect(),
            power: top_of(&self.parsed.powers, "power"),
            call: top_of(&self.parsed.calls, "call"),
        }
    }

    /// Tells of what has another name now than where it is gone by, where it is given.
    fn tell_renamed(&mut self) {
        for names in [&self.fact_names, &self.deed_names, &self.ending_names] {
            names.tell_renamed(&mut self.findings);
        }
        for (fact, lost) in &self.lost_choices {
            let Some(Ok(rule)) = self.facts.get(fact.index()) else { continue };
            let used = self.used_choices.get(fact).copied().unwrap_or_default();
            let unused: Vec<usize> = rule.every_choice().without(used).positions().collect();
            let is_one = self.lost_choices.iter().filter(|(other, _)| other == fact).count() == 1;
            let [position] = unused.as_slice() else { continue };
            let (Some(choice), Some(spot)) =
                (rule.choices().get(*position).filter(|_| is_one), self.fact_names.spot(fact.index()))
            else {
                continue;
            };
            let (now, id) = (&choice.id, &rule.id);
            let pointer = crate::places::join(&crate::places::join(&spot.pointer, "choices"), now);
            let title = format!("`{lost}` is not a choice of `{id}`");
            self.findings.fold_renamed(Code::UnknownChoice, &title, |places| {
                let title =
                    format!("nothing goes by `{now}` of `{id}`, and {places} places still say `{lost}`");
                let help = format!(
                    "was this choice called `{lost}` before? write `{now}` at all these places, or give it that name again"
                );
                Draft::new(Code::UnknownChoice, &spot.file, pointer, On::Key, title).help(help)
            });
        }
    }

    fn say(&mut self, draft: Draft) -> Said {
        self.findings.push(draft)
    }

    fn fact_id(&mut self, name: &str, at: &At<'_>) -> Result<FactId, Said> {
        self.fact_names.find(&mut self.findings, name, at).map(FactId::at)
    }

    /// The id of a fact where it is given, which is no use of it.
    fn own_id(&mut self, name: &str, at: &At<'_>) -> Result<FactId, Said> {
        self.fact_names.position(name).map_or_else(|| self.fact_id(name, at), |own| Ok(FactId::at(own)))
    }

    fn deed_id(&mut self, name: &str, at: &At<'_>) -> Result<DeedId, Said> {
        self.deed_names.find(&mut self.findings, name, at).map(DeedId::at)
    }

    fn ending_id(&mut self, name: &str, at: &At<'_>) -> Result<EndingId, Said> {
        self.ending_names.find(&mut self.findings, name, at).map(EndingId::at)
    }

    fn tree_id(&mut self, name: &str, at: &At<'_>) -> Result<TreeId, Said> {
        self.tree_names.find(&mut self.findings, name, at).map(TreeId::at)
    }

    /// The only document of a kind that must be there once.
    fn only<T>(&mut self, docs: &'p [Doc<T>], kind: &str) -> Result<&'p Doc<T>, Said> {
        match docs {
            [] => {
                Err(match self.parsed.any_file() {
                    Some(gated) => self.say(
                        Draft::new(
                            Code::MissingFile,
                            gated,
                            "",
                            On::Key,
                            format!("no rule file starts with `{kind}:`"),
                        )
                        .help("every rules folder needs exactly one"),
                    ),
                    // Said once, though it is asked for more than one file.
                    None => self.findings.said().unwrap_or_else(|| self.findings.no_files()),
                })
            }
            [doc] => Ok(doc),
            [first, second, ..] => Err(self.say(
                At::top(&second.gated)
                    .key(kind)
                    .draft_key(Code::DuplicateId, format!("`{kind}:` stands in two files"))
                    .also(&first.gated, format!("/{kind}"), On::Key, "it is already here")
                    .help("keep one of them"),
            )),
        }
    }
}

/// Where the first document of a kind has what it is about.
fn top_of<T>(docs: &[Doc<T>], kind: &str) -> Option<Spot> {
    docs.first().map(|doc| Spot { file: doc.gated.clone(), pointer: At::top(&doc.gated).key(kind).pointer() })
}

/// All of them, or the first token; every one is worked out first, so that all findings are reported.
fn all<T>(parts: impl Iterator<Item = Result<T, Said>>) -> Result<Vec<T>, Said> {
    let parts: Vec<_> = parts.collect();
    parts.into_iter().collect()
}
