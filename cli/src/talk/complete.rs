//! Completion at the editor: command words, the present choices, and every fact's name behind `tell` and `correct`.

use super::answer::word;
use super::said::COMMANDS;
use engine::rulebook::{Fact, Rulebook};
use rustyline::completion::Completer;
use rustyline::highlight::Highlighter;
use rustyline::hint::Hinter;
use rustyline::validate::Validator;
use rustyline::{Context, Helper};

/// The words of a rulebook that may be typed at any prompt.
#[derive(Clone, Debug)]
pub(crate) struct Words {
    /// Facts that can be told, each with its choices.
    facts: Vec<(String, Vec<String>)>,
    dangers: Vec<String>,
}

impl Words {
    pub(crate) fn of(book: &Rulebook) -> Self {
        let (danger, safe) = book.roles().danger;
        let of = |fact: &Fact| fact.choices().iter().map(|choice| word(&choice.id)).collect::<Vec<_>>();
        let danger = book.fact(danger);
        let safe: Vec<usize> = safe.positions().collect();
        let dangers = (0..).zip(of(danger)).filter(|(position, _)| !safe.contains(position));
        Self {
            facts: book.facts().iter().map(|fact| (fact.name.clone(), of(fact))).collect(),
            dangers: dangers.map(|(_, choice)| choice).collect(),
        }
    }

    /// What the line so far may become.
    fn ahead(&self, answers: &[String], line: &str) -> Vec<String> {
        let typed = line.to_lowercase();
        let whole: Vec<String> = match typed.split_once(' ') {
            Some((verb @ ("tell" | "correct"), rest)) => self
                .facts
                .iter()
                .flat_map(|(name, choices)| {
                    let told = rest.starts_with(&name.to_lowercase());
                    let values = choices.iter().filter(move |_| told);
                    [format!("{verb} {name} ")]
                        .into_iter()
                        .chain(values.map(move |choice| format!("{verb} {name} {choice}")))
                })
                .collect(),
            Some(("danger", _)) => self.dangers.iter().map(|choice| format!("danger {choice}")).collect(),
            _ => answers.iter().cloned().chain(COMMANDS.iter().map(|(word, _)| (*word).to_owned())).collect(),
        };
        whole
            .into_iter()
            .filter(|candidate| candidate.to_lowercase().starts_with(&typed) && candidate.len() > typed.len())
            .collect()
    }
}

/// What the editor asks for completions.
pub(super) struct Complete {
    words: Words,
    answers: Vec<String>,
}

impl Complete {
    pub(super) const fn new(words: Words) -> Self {
        Self { words, answers: Vec::new() }
    }

    /// The words that answer the present question.
    pub(super) fn answers(&mut self, answers: Vec<String>) {
        self.answers = answers;
    }
}

impl Completer for Complete {
    type Candidate = String;

    fn complete(&self, line: &str, pos: usize, _: &Context<'_>) -> rustyline::Result<(usize, Vec<String>)> {
        let so_far = line.get(..pos).unwrap_or(line);
        Ok((0, self.words.ahead(&self.answers, so_far)))
    }
}

impl Hinter for Complete {
    type Hint = String;
}

impl Highlighter for Complete {}

impl Validator for Complete {}

impl Helper for Complete {}

#[cfg(test)]
mod tests {
    use super::Words;

    fn words() -> Words {
        Words {
            facts: vec![
                ("filter condition".to_owned(), vec!["clean".to_owned(), "dirty".to_owned()]),
                ("filter pressure".to_owned(), Vec::new()),
            ],
            dangers: vec!["gas smell".to_owned(), "shock felt".to_owned()],
        }
    }

    #[test]
    fn choices_and_command_words_are_completed() {
        let answers = ["on".to_owned(), "tripped".to_owned()];
        assert_eq!(words().ahead(&answers, "t"), ["tripped", "tell"]);
        assert_eq!(words().ahead(&answers, "danger g"), ["danger gas smell"]);
    }

    #[test]
    fn a_fact_is_completed_by_name_and_then_by_choice() {
        assert_eq!(words().ahead(&[], "tell fil"), ["tell filter condition ", "tell filter pressure "]);
        assert_eq!(words().ahead(&[], "tell filter condition d"), ["tell filter condition dirty"]);
    }
}
