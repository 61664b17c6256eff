//! Completion at the editor: command words, the present choices, and every fact's name behind `tell` and `correct`.

use super::answer::word;
use super::hint::Typing;
use super::said::COMMANDS;
use engine::rulebook::{Fact, Rulebook};
use rustyline::completion::Completer;
use rustyline::highlight::Highlighter;
use rustyline::hint::{Hint, Hinter};
use rustyline::validate::Validator;
use rustyline::{Context, Helper};
use std::borrow::Cow;

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
            Some((verb @ ("tell" | "correct"), rest)) => {
                self.facts.iter().flat_map(|fact| named(fact, rest, &format!("{verb} "))).collect()
            }
            Some(("danger", _)) => {
                let dangers = self.dangers.iter().map(|choice| format!("danger {choice}"));
                dangers.filter(|danger| danger.starts_with(&typed)).collect()
            }
            _ => self.first(answers, &typed),
        };
        whole.into_iter().filter(|candidate| candidate.to_lowercase() != typed).collect()
    }

    /// An answer or a command word; a fact's name where neither is begun.
    fn first(&self, answers: &[String], typed: &str) -> Vec<String> {
        let words = answers.iter().map(String::as_str).chain(COMMANDS.iter().map(|(word, _)| *word));
        let begun: Vec<String> =
            words.filter(|word| word.to_lowercase().starts_with(typed)).map(str::to_owned).collect();
        if begun.is_empty() && typed.len() > 2 {
            return self.facts.iter().flat_map(|fact| named(fact, typed, "")).collect();
        }
        begun
    }
}

/// A fact whose name, or whose words from a later one on, the line begins; behind the whole name, its choices.
fn named((name, choices): &(String, Vec<String>), typed: &str, before: &str) -> Vec<String> {
    let lower = name.to_lowercase();
    if let Some(value) = typed.strip_prefix(&format!("{lower} ")) {
        let values = choices.iter().filter(|choice| choice.starts_with(value.trim_start()));
        return values.map(|choice| format!("{before}{name} {choice}")).collect();
    }
    let later = || lower.match_indices(' ').any(|(blank, _)| lower[blank + 1..].starts_with(typed));
    if lower.starts_with(typed) || later() { vec![format!("{before}{name} ")] } else { Vec::new() }
}

/// What the editor asks for completions.
#[derive(Clone)]
pub(super) struct Complete {
    words: Words,
    typing: Typing,
}

impl Complete {
    pub(super) fn new(words: Words) -> Self {
        Self { words, typing: Typing::default() }
    }

    /// What the next line is typed for.
    pub(super) fn typing(&mut self, typing: Typing) {
        self.typing = typing;
    }
}

impl Completer for Complete {
    type Candidate = String;

    fn complete(&self, line: &str, pos: usize, _: &Context<'_>) -> rustyline::Result<(usize, Vec<String>)> {
        let so_far = line.get(..pos).unwrap_or(line);
        Ok((0, self.words.ahead(&self.typing.answers, so_far)))
    }
}

/// A hint that is only read: no key takes it into the line.
pub(super) struct Beside(String);

impl Hint for Beside {
    fn display(&self) -> &str {
        &self.0
    }

    fn completion(&self) -> Option<&str> {
        None
    }
}

impl Hinter for Complete {
    type Hint = Beside;

    fn hint(&self, line: &str, pos: usize, _: &Context<'_>) -> Option<Beside> {
        if pos < line.len() {
            return None;
        }
        self.typing.hint(line).map(Beside)
    }
}

impl Highlighter for Complete {
    fn highlight_hint<'h>(&self, hint: &'h str) -> Cow<'h, str> {
        if anstream::AutoStream::choice(&std::io::stdout()) == anstream::ColorChoice::Never {
            return Cow::Borrowed(hint);
        }
        let dim = anstyle::Style::new().dimmed();
        Cow::Owned(format!("{dim}{hint}{dim:#}"))
    }
}

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
        assert_eq!(words().ahead(&[], "tell cond"), ["tell filter condition "]);
        assert_eq!(words().ahead(&[], "press"), ["filter pressure "]);
        assert_eq!(words().ahead(&[], "filter condition c"), ["filter condition clean"]);
    }
}
