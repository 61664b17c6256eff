//! What came of all edits, as a table by kind, and the escaped ones by name.

use super::judge::Verdict;
use super::text::{Edit, Text};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// How many edits came to what.
#[derive(Default, Clone, Copy)]
pub(super) struct Count {
    pub(super) check: usize,
    pub(super) notes: usize,
    pub(super) case: usize,
    pub(super) same: usize,
    pub(super) no_harm: usize,
    pub(super) listed: usize,
    pub(super) escaped: usize,
}

impl Count {
    pub(super) fn of<'v>(verdicts: impl IntoIterator<Item = &'v Verdict>) -> Self {
        let mut count = Self::default();
        for verdict in verdicts {
            match verdict {
                Verdict::Check(code) => {
                    count.check += 1;
                    count.notes += usize::from(code.ends_with('*'));
                }
                Verdict::Case(_) => count.case += 1,
                Verdict::Same => count.same += 1,
                Verdict::NoHarm => count.no_harm += 1,
                Verdict::Listed(_) => count.listed += 1,
                Verdict::Escaped(_) => count.escaped += 1,
            }
        }
        count
    }

    pub(super) const fn all(&self) -> usize {
        self.found() + self.same + self.no_harm + self.listed + self.escaped
    }

    pub(super) const fn found(&self) -> usize {
        self.check + self.case
    }

    /// The share found by a check or a case, of those that do harm. Found ones count as harmful.
    pub(super) fn found_of_harmful(&self) -> f64 {
        share(self.found(), self.found() + self.listed + self.escaped)
    }

    /// The same, with those that the list of promises tells of.
    pub(super) fn told_of_harmful(&self) -> f64 {
        share(self.found() + self.listed, self.found() + self.listed + self.escaped)
    }
}

fn share(part: usize, whole: usize) -> f64 {
    let count = |many: usize| f64::from(u32::try_from(many).unwrap());
    100.0 * count(part) / count(whole).max(1.0)
}

/// The table, and below it every edit that escaped.
pub(super) fn of(texts: &[Text], judged: &[(Edit, Verdict)]) -> String {
    let mut kinds: BTreeMap<&str, Vec<&Verdict>> = BTreeMap::new();
    for (edit, verdict) in judged {
        kinds.entry(edit.kind).or_default().push(verdict);
    }
    let mut out = format!(
        "{:44} {:>6} {:>6} {:>6} {:>6} {:>8} {:>8} {:>8}\n",
        "kind", "edits", "check", "case", "same", "no harm", "listed", "escaped"
    );
    let mut row = |name: &str, count: Count| {
        let _ = writeln!(
            out,
            "{name:44} {:>6} {:>6} {:>6} {:>6} {:>8} {:>8} {:>8}",
            count.all(),
            count.check,
            count.case,
            count.same,
            count.no_harm,
            count.listed,
            count.escaped
        );
    };
    for (kind, verdicts) in &kinds {
        row(kind, Count::of(verdicts.iter().copied()));
    }
    let all = Count::of(judged.iter().map(|(_, verdict)| verdict));
    row("all", all);
    let _ = writeln!(
        out,
        "\nfound by a check or a case: {:.1} % of all edits, {:.1} % of those that do harm; with the list of promises \
         {:.1} %; {} by a note alone\n",
        share(all.found(), all.all()),
        all.found_of_harmful(),
        all.told_of_harmful(),
        all.notes
    );
    for (edit, verdict) in judged {
        let text = &texts[edit.file];
        let place = format!("{}:{}", text.name, edit.out.start + 1);
        let said = |lines: &[String]| lines.iter().map(|line| line.trim()).collect::<Vec<_>>().join(" / ");
        let (word, why) = match verdict {
            Verdict::Escaped(why) => ("ESCAPED", why.as_str()),
            Verdict::Listed(why) => ("listed", why.as_str()),
            Verdict::NoHarm => ("no harm", ""),
            _ => continue,
        };
        let _ = writeln!(
            out,
            "{word} {} {place}: {} => {}: {why}",
            edit.kind,
            said(&text.raw[edit.out.clone()]),
            said(&edit.new)
        );
    }
    out
}
