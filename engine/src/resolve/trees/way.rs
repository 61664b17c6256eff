//! The ways out of a line: exactly one each, and where it leads.

use super::Scope;
use crate::finding::{Code, Draft, Said, only_one};
use crate::gate::yaml::Word;
use crate::mend::lost::around_arrow;
use crate::parsed::tree::WayKeys;
use crate::resolve::{At, Resolver};
use crate::rulebook::{EndingId, StepId, TreeId, Way};

impl Resolver<'_> {
    pub(super) fn step_id(&mut self, scope: Scope<'_>, name: &str, at: &At<'_>) -> Result<StepId, Said> {
        if let Some(index) = scope.doc.steps.get_index_of(name) {
            return Ok(StepId::at(scope.first + index));
        }
        let draft =
            at.draft(Code::UnknownTarget, format!("no step `{name}` in the tree `{}`", scope.doc.tree));
        if self.findings.is_full(at.gated().source()) {
            return Err(self.say(draft));
        }
        let several = || only_one(at.name(), name, scope.doc.steps.keys().map(String::as_str));
        if let Some(help) = self.other_kind(scope, name, at.name()).or_else(several) {
            return Err(self.say(draft.help(help)));
        }
        if let Some(said) = self.renamed_step(scope, name, at) {
            return Err(said);
        }
        let meant = self.findings.did_you_mean(name, scope.doc.steps.keys().map(String::as_str));
        Err(self.say(match meant {
            Some(question) => draft.help(question),
            None => draft.help("name a step of this tree, or use `continue in` for another tree"),
        }))
    }

    fn ending_way(&mut self, scope: Scope<'_>, name: &str, at: &At<'_>) -> Result<EndingId, Said> {
        if self.ending_names.position(name).is_none()
            && let Some(help) = self.other_kind(scope, name, "end")
        {
            let draft = at.draft(Code::UnknownId, format!("unknown ending `{name}`"));
            return Err(self.say(draft.help(help)));
        }
        self.ending_id(name, at)
    }

    fn tree_way(&mut self, scope: Scope<'_>, name: &str, at: &At<'_>) -> Result<TreeId, Said> {
        if self.tree_names.position(name).is_some() || self.findings.is_full(at.gated().source()) {
            return self.tree_id(name, at);
        }
        if let Some(help) = self.other_kind(scope, name, at.name()) {
            let draft = at.draft(Code::UnknownId, format!("unknown tree `{name}`"));
            return Err(self.say(draft.help(help)));
        }
        self.renamed_tree(name, at).map_or_else(|| self.tree_id(name, at), Err)
    }

    /// The way to write a target that is of another kind than its key leads to; `None` where it is of none.
    fn other_kind(&self, scope: Scope<'_>, name: &str, key: &str) -> Option<String> {
        let step = scope.doc.steps.contains_key(name);
        let (kind, write) = if self.ending_names.position(name).is_some() {
            ("an ending", format!("write `end: {name}`"))
        } else if step {
            ("a step of this tree", format!("write `go: {name}`"))
        } else if self.tree_names.position(name).is_some() {
            (
                "a tree",
                format!("write `continue in: {name}`, or `visit` with `then` where the call comes back"),
            )
        } else {
            return None;
        };
        // These two stand beside another key, or on no line at all.
        let write =
            if ["start", "then"].contains(&key) { format!("name a step under `{key}`") } else { write };
        Some(format!("`{name}` is {kind}: {write}"))
    }

    /// Refuses a choice or an edge that has its way out behind it on the same line, as in `clean -> STEP`.
    pub(super) fn no_arrow(
        &mut self,
        scope: Scope<'_>,
        word: &Word,
        keys: WayKeys<'_>,
        at: &At<'_>,
    ) -> Result<(), Said> {
        let has_way = [keys.go, keys.end, keys.continue_in, keys.visit].iter().any(Option::is_some);
        let Some((before, sign, name)) = around_arrow(word.as_str()) else { return Ok(()) };
        let title = format!("`{sign}` is no word for a way out, which stands on a line of its own");
        let first = format!("`{}: {before}`", at.name());
        let help = match self.other_kind(scope, name, at.name()) {
            _ if has_way => format!("write {first}: where it leads is said below it"),
            Some(kind) => format!("write {first} here, and the way out on a line of its own below; {kind}"),
            None => format!(
                "write {first} here, and the way out on a line of its own below, such as `go: {name}`"
            ),
        };
        Err(self.say(at.draft(Code::BadValue, title).help(help)))
    }

    pub(super) fn way(&mut self, scope: Scope<'_>, keys: WayKeys<'_>, at: &At<'_>) -> Result<Way, Said> {
        match keys {
            WayKeys { go: Some(step), end: None, continue_in: None, visit: None, then: None } => {
                self.step_id(scope, step, &at.key("go")).map(Way::Go)
            }
            WayKeys { go: None, end: Some(ending), continue_in: None, visit: None, then: None } => {
                self.ending_way(scope, ending, &at.key("end")).map(Way::End)
            }
            WayKeys { go: None, end: None, continue_in: Some(tree), visit: None, then: None } => {
                self.tree_way(scope, tree, &at.key("continue in")).map(Way::ContinueIn)
            }
            WayKeys { go: None, end: None, continue_in: None, visit: Some(tree), then: Some(step) } => {
                let tree = self.tree_way(scope, tree, &at.key("visit"));
                let then = self.step_id(scope, step, &at.key("then"))?;
                Ok(Way::Visit { tree: tree?, then })
            }
            _ => Err(self.say(no_one_way(keys, at))),
        }
    }
}

/// What is wrong with the ways out of a line that has not exactly one.
fn no_one_way(keys: WayKeys<'_>, at: &At<'_>) -> Draft {
    let all = [("go", keys.go), ("end", keys.end), ("continue in", keys.continue_in), ("visit", keys.visit)];
    let there: Vec<&str> = all.iter().filter(|(_, way)| way.is_some()).map(|(key, _)| *key).collect();
    match there.as_slice() {
        [] if keys.then.is_some() => at
            .key("then")
            .draft_key(Code::MissingKey, "`then` without `visit`")
            .help("add `visit:` with the tree to walk first, or write `go` in place of `then`"),
        [] => at
            .draft_key(Code::MissingKey, "this line leads nowhere")
            .help("add one of `go`, `end`, `continue in`, or `visit` with `then`"),
        ["visit"] => at
            .key("visit")
            .draft_key(Code::MissingKey, "`visit` without `then`")
            .help("add `then:` with the step to go on at, or write `continue in` in place of `visit`"),
        [one] => at
            .key("then")
            .draft_key(Code::MisplacedKey, format!("`then` beside `{one}`"))
            .help("delete it: only a `visit` comes back"),
        [first, .., last] => at
            .clash(first, last, format!("a second way out: `{last}` beside `{first}`"))
            .help("keep one of the two"),
    }
}
