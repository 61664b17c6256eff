//! Conflicts and diagnoses against published examples.

use engine::hitting::{lightest, minimal};
use std::collections::BTreeSet;

fn sets(text: &str) -> Vec<BTreeSet<String>> {
    text.split(' ').map(|set| set.split(',').map(str::to_owned).collect()).collect()
}

fn diagnoses(conflicts: &str) -> BTreeSet<BTreeSet<String>> {
    minimal(&sets(conflicts)).into_iter().collect()
}

/// The polybox of de Kleer and Williams (Diagnosing multiple faults, Artificial Intelligence 32, 1987), T11.7 of our
/// list of trade facts: three multipliers and two adders, F = 10 where 12 is expected.
#[test]
fn the_polybox_has_four_minimal_diagnoses() {
    let expected: BTreeSet<_> = sets("A1 M1 A2,M2 M2,M3").into_iter().collect();
    assert_eq!(diagnoses("A1,M1,M2 A1,A2,M1,M3"), expected);
}

/// The full adder of Reiter (A theory of diagnosis from first principles, Artificial Intelligence 32, 1987), T11.8:
/// inputs 1, 0, 1 give sum 1 and carry 0.
#[test]
fn the_full_adder_has_three_minimal_diagnoses() {
    let expected: BTreeSet<_> = sets("X1 X2,A2 X2,O1").into_iter().collect();
    assert_eq!(diagnoses("X1,X2 X1,A2,O1"), expected);
}

/// Reiter's family of sets (from memory), T11.9.
#[test]
fn reiters_family_has_six_minimal_hitting_sets() {
    let expected: BTreeSet<_> = sets("1,2 1,3,4 1,4,5 2,3,6 2,5,6 3,4,6").into_iter().collect();
    assert_eq!(diagnoses("2,4,5 1,2,3 1,3,5 2,4,6 2,4 2,3,5 1,6"), expected);
}

#[test]
fn the_lightest_set_is_the_one_most_easily_wrong() {
    let conflicts = sets("a,b b,c");
    assert_eq!(lightest(&conflicts, |_| 1.0), Some(BTreeSet::from(["b".to_owned()])));
    assert_eq!(
        lightest(&conflicts, |thing| if thing == "b" { 5.0 } else { 1.0 }),
        Some(BTreeSet::from(["a".to_owned(), "c".to_owned()]))
    );
}

/// Against brute force over every subset: 300 families of up to six sets over six things.
#[test]
fn minimal_hitting_sets_agree_with_trying_every_subset() {
    let mut state: u64 = 20_261_125;
    let mut next = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as u32
    };
    for _ in 0..300 {
        let family: Vec<BTreeSet<u32>> = (0..=next() % 6)
            .map(|_| {
                let bits = 1 + next() % 63;
                (0..6).filter(|bit| bits >> bit & 1 == 1).collect()
            })
            .collect();
        let hits = |bits: u32| family.iter().all(|set| set.iter().any(|thing| bits >> thing & 1 == 1));
        let all: Vec<u32> = (0..64).filter(|bits| hits(*bits)).collect();
        let expected: BTreeSet<BTreeSet<u32>> = all
            .iter()
            .filter(|bits| !all.iter().any(|other| other != *bits && other & *bits == *other))
            .map(|bits| (0..6).filter(|bit| bits >> bit & 1 == 1).collect())
            .collect();
        assert_eq!(minimal(&family).into_iter().collect::<BTreeSet<_>>(), expected, "{family:?}");
    }
}
