//! Slips of the hand: a line lost, swapped, moved to the side, a word misspelt.

use super::{Slips, misspelt};

/// What only says something to a person.
const WORDING: [&str; 8] = ["name", "say", "how", "because", "means", "about", "from", "whose"];

pub(super) fn slips(slips: &Slips<'_>) {
    let lines = &slips.text.lines;
    for line in lines {
        slips.push("a line deleted", line.at..line.at + 1, Vec::new());
        let raw = &slips.text.raw[line.at];
        // To the left where it can, else to the right; by one or by two in turn.
        let by = 1 + line.at % 2;
        let moved = if line.margin >= by && line.at % 4 < 2 {
            raw[by..].to_owned()
        } else {
            format!("{}{raw}", " ".repeat(by))
        };
        slips.line("a line set in otherwise", line, moved);
        if let Some(key) = line.key.as_deref().filter(|key| key.len() > 2) {
            slips.part("a key misspelt", line, key, &misspelt(key));
        }
        let word = line.value.trim_matches(['[', ']', '{', '}']);
        let said = line.key.as_deref().is_some_and(|key| WORDING.contains(&key));
        let id = word.len() > 3 && word.chars().all(|sign| sign.is_ascii_lowercase() || "_-".contains(sign));
        if !said && id {
            slips.part("a word misspelt", line, word, &misspelt(word));
        }
        if line.dash {
            let block = slips.text.block(line);
            slips.push("an entry deleted", block.clone(), Vec::new());
            let entry = &slips.text.raw[block.clone()];
            let twice = [entry, entry].concat();
            slips.push("an entry written twice", block, twice);
        }
    }
    for pair in lines.windows(2) {
        let [one, two] = pair else { continue };
        if two.at == one.at + 1 && one.margin == two.margin {
            let (first, second) = (slips.text.raw[one.at].clone(), slips.text.raw[two.at].clone());
            slips.push("two lines swapped", one.at..two.at + 1, vec![second, first]);
        }
    }
    for line in lines.iter().filter(|line| line.dash) {
        let block = slips.text.block(line);
        let Some(next) = slips.text.line(block.end).filter(|next| next.dash && next.margin == line.margin)
        else {
            continue;
        };
        let next = slips.text.block(next);
        let swapped = [&slips.text.raw[next.clone()], &slips.text.raw[block.clone()]].concat();
        slips.push("two entries swapped", block.start..next.end, swapped);
    }
}
