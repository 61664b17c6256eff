//! What comes after a repair: its proof, and what follows where it fails.

use super::Script;
use super::page::{Block, Section};
use crate::wording::choices;
use engine::rulebook::EndingKind;

impl Script<'_> {
    pub(super) fn after_a_repair(&self) -> Section {
        let mut section = Section::new("A: after a repair, and its proof");
        for (at, (text, more)) in self.proof_steps().iter().chain(&self.in_order_steps()).enumerate() {
            let label = format!("A{}", at + 1);
            let mut block = Block::numbered(label.clone());
            block.para(1, &format!("{label:<5}"), text);
            for line in more {
                block.text(line);
            }
            section.blocks.push(block);
        }
        section
    }

    fn proof_steps(&self) -> Vec<(String, Vec<String>)> {
        let roles = self.book.roles();
        let again = self.numbers.ending(roles.same_fault_again);
        let asks: Vec<String> = self.proof_facts().map(|fact| self.where_asked(fact)).collect();
        let complaint = self.fact(roles.complaint);
        let gone = self.fact(roles.gone.0);
        let plain = |text: String| (text, Vec::new());
        let checks = choices(self.book.fact(roles.complaint), roles.checks, " / ");
        let check = if roles.checks.is_empty() {
            String::new()
        } else {
            format!(
                " Is {complaint} {checks}? That is a check: leave {gone} out where the Proof names more, and once \
                 it is proved go on at question 1, with the record as it stands."
            )
        };
        vec![
            (
                format!(
                    "Write the repair down. Cross out all that its Proof names, and read each anew, in the state \
                     of power that it needs, whatever was read before.{check}"
                ),
                asks,
            ),
            plain(
                "All as the Proof wants, and no hold-off stands? Done and proved. Go to C1, and the call is \
                 closed; a check goes on instead, as A1 says."
                    .to_owned(),
            ),
            plain(format!(
                "One otherwise, or a hold-off stands? The repair did not mend it. Write \"failed\" behind it. \
                 Cross out {complaint}, and {gone}."
            )),
            plain(format!(
                "Then a new round: begin again at question 1 with the record as it stands. Where it comes to a \
                 repair whose steps were all done once in this call, do not do them again: it ends in {again}, or where its page says for a second time."
            )),
            plain(
                "None otherwise, but some could not be told? Write \"done, not proved\": never \"mended\". Go \
                 to C1."
                    .to_owned(),
            ),
        ]
    }

    /// What an ending that is in order goes on with.
    fn in_order_steps(&self) -> Vec<(String, Vec<String>)> {
        let roles = self.book.roles();
        let complaint = self.book.fact(roles.complaint);
        let answers = self.numbers.endings.iter().map(|ending| (*ending, self.book.ending(*ending)));
        let answers = answers.filter(|(_, ending)| ending.kind == EndingKind::InOrder);
        let answers = answers.filter(|(_, ending)| !ending.answers.is_empty());
        let answers: Vec<String> = answers
            .map(|(id, ending)| {
                let words = choices(complaint, ending.answers, " / ");
                format!("{} answers: {words}", self.numbers.ending(id))
            })
            .collect();
        let too_little = self.numbers.ending(roles.not_enough_readings);
        vec![
            (
                "In order. A number stands behind \"come back to\" on the record? Cross out the last of them, and go \
                 to that question. Else A7."
                    .to_owned(),
                Vec::new(),
            ),
            (
                format!(
                    "Is {} one that this ending answers? Done: go to C1. Else A8.",
                    self.fact(roles.complaint)
                ),
                answers,
            ),
            (
                format!(
                    "Ask {}. Is it {}? Done: go to C1. Anything else: ends in {too_little}.",
                    self.where_asked(roles.gone.0),
                    choices(self.book.fact(roles.gone.0), roles.gone.1, " / ")
                ),
                Vec::new(),
            ),
        ]
    }

    /// The facts of every proof, each once.
    fn proof_facts(&self) -> impl Iterator<Item = engine::rulebook::FactId> {
        let mut facts: Vec<_> = self
            .numbers
            .endings
            .iter()
            .flat_map(|ending| &self.book.ending(*ending).proof)
            .map(|(fact, _)| *fact)
            .chain([self.book.roles().gone.0])
            .collect();
        facts.sort_unstable();
        facts.dedup();
        facts.into_iter()
    }

    fn where_asked(&self, fact: engine::rulebook::FactId) -> String {
        match self.numbers.asked_first(fact) {
            Some(place) => format!("{}, as at {place}", self.fact(fact)),
            None => format!("{}, under other readings", self.fact(fact)),
        }
    }
}
