//! Troubleshooting tables that others have published, walked row by row: which ending do our trees reach?
//!
//! The handbooks' titles were seen; their rows are from memory and in our words. Of army manuals of this kind the order
//! is known that is used here too: the easiest test first. Every row is walked by cases below `cases/handbooks`, written
//! from what the row says would be found. A row about a sense of rotation, or about ducts, has a case for each ending
//! that ours tell apart; one about too little air over a heat exchanger sends to all that holds air back.

use crate::house::{BOOK, CASES, files, root};
use engine::case::{Case, replay};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;

const MOTORS: &str = "TM 5-683 / NAVFAC MO-116 / AFJMAN 32-1083 (1995), chapter 4, motors";
const CONTROLS: &str = "TM 5-683 / NAVFAC MO-116 / AFJMAN 32-1083 (1995), chapter 5, controls";
const FURNACES: &str =
    "MIL-HDBK-1114/2, Maintenance and Operation of Heating Systems, table 3, furnace operation";
const SMALL_HEATING: &str = "TM 5-642 (1990), small heating systems";
const FANS: &str = "AMCA 202, Troubleshooting, fans";

/// One row of the handbooks, and the cases that walk it.
struct Row {
    symptom: &'static str,
    cause: &'static str,
    sources: &'static [&'static str],
    /// The endings that stand for the cause in our trees.
    endings: &'static [&'static str],
    /// How many of them its cases must reach.
    reached: usize,
    cases: &'static [&'static str],
}

/// A row whose cases reach every one of its endings.
const fn row(
    symptom: &'static str,
    cause: &'static str,
    sources: &'static [&'static str],
    endings: &'static [&'static str],
    cases: &'static [&'static str],
) -> Row {
    Row { symptom, cause, sources, endings, reached: endings.len(), cases }
}

const ROWS: [Row; 20] = [
    row(
        "will not start",
        "supply open, a fuse or a breaker",
        &[MOTORS],
        &["switch-supply-on", "restore-open-supply"],
        &["thrown-for-the-painters-and-forgotten", "one-fuse-gone-at-the-panel"],
    ),
    row(
        "will not start",
        "wrong or low supply at the motor",
        &[MOTORS],
        &["supply-voltage-low", "fit-link-115", "fit-link-230"],
        &["barn-at-the-far-end-of-the-line", "set-for-twice-the-supply", "link-lies-in-the-drain-pan"],
    ),
    row(
        "will not start",
        "line connections wrong or loose",
        &[MOTORS],
        &["repair-line-connection", "reseat-connectors"],
        &["lead-broken-where-it-was-stripped", "plug-on-half-its-latch"],
    ),
    row(
        "will not start",
        "open in the control circuit",
        &[CONTROLS],
        &["repair-call-wiring", "set-thermostat-call", "replace-control-transformer"],
        &["call-wire-parted-in-the-crawl-space", "nobody-asked-it-to-run", "no-twenty-four-volts-come-out"],
    ),
    row(
        "will not start",
        "mechanical, a bearing stuck, rotor or wheel rubbing",
        &[MOTORS],
        &["replace-motor-seized", "free-the-wheel"],
        &["bearing-stuck-fast", "wheel-against-its-inlet-ring"],
    ),
    row(
        "will not start",
        "grounded winding, the breaker opens at once",
        &[MOTORS],
        &["replace-motor-grounded"],
        &["breaker-opens-the-moment-it-is-closed"],
    ),
    row(
        "runs, then dies",
        "loose connection, or the supply failing under load",
        &[MOTORS],
        &["repair-line-connection", "tighten-line-connection"],
        &["lead-of-a-few-strands", "screw-that-gives-when-it-warms"],
    ),
    row(
        "wrong rotation",
        "connection or sense of rotation wrong",
        &[MOTORS, FANS],
        &["relearn-moved-motor", "relearn-after-bad-first-run", "relearn-after-interruption"],
        &["came-with-another-units-memory", "first-run-with-the-door-off", "switched-off-half-way-through"],
    ),
    row(
        "overheats",
        "overload, a forward-curved fan against too little resistance",
        &[MOTORS, FANS],
        &["lower-rating"],
        &["wide-ducts-and-too-strong-a-motor"],
    ),
    row(
        "overheats",
        "ventilation blocked by dirt, or hot surroundings",
        &[MOTORS],
        &["restore-motor-cooling"],
        &["openings-felted-with-lint", "boxes-stacked-round-it-under-the-roof"],
    ),
    row(
        "overheats",
        "supply too high or too low",
        &[MOTORS],
        &["supply-voltage-high", "supply-voltage-low"],
        &["lamps-too-bright-at-night", "dim-lamps-and-a-hot-motor"],
    ),
    row(
        "overheats",
        "too many starts",
        &[MOTORS, CONTROLS],
        &["stop-short-cycling"],
        &["thermostat-over-the-lamp"],
    ),
    row(
        "too little air",
        "filter, coil or wheel dirty",
        &[FANS, SMALL_HEATING],
        &["change-filter", "clean-coil", "clean-wheel"],
        &["filter-grey-since-the-spring", "lint-pressed-into-the-coil", "hollows-of-the-blades-filled"],
    ),
    row(
        "too little air",
        "wheel turns backwards, or is mounted backwards",
        &[FANS],
        &[
            "relearn-moved-motor",
            "relearn-after-bad-first-run",
            "relearn-after-interruption",
            "turn-wheel-round-then-relearn",
        ],
        &[
            "weak-air-from-a-motor-that-moved",
            "ducts-still-capped-when-it-felt",
            "meter-changed-in-its-first-minute",
            "wheel-slid-on-by-the-other-end",
        ],
    ),
    row(
        "too little air",
        "resistance of the ducts above design, dampers or registers shut",
        &[FANS, SMALL_HEATING],
        &["relieve-supply-duct", "relieve-return-duct", "open-registers"],
        &["one-trunk-for-two-floors", "one-grille-and-four-tons", "dampers-shut-to-heat-the-office"],
    ),
    row(
        "too little air",
        "wheel loose on its shaft",
        &[FANS],
        &["tighten-wheel-then-relearn"],
        &["screw-never-on-the-flat"],
    ),
    row(
        "too little air",
        "duct leaking or off",
        &[FANS, SMALL_HEATING],
        &["repair-duct"],
        &["boot-off-behind-the-closet"],
    ),
    row(
        "too little air",
        "speed too low",
        &[FANS],
        &["raise-speed", "raise-rating"],
        &["left-on-its-slowest-step", "a-third-of-a-horse-where-half-was"],
    ),
    Row {
        symptom: "limit trips",
        cause: "too little air over the heat exchanger",
        sources: &[FURNACES, SMALL_HEATING],
        endings: &[
            "change-filter",
            "fit-filter",
            "clean-coil",
            "clean-wheel",
            "open-registers",
            "repair-duct",
            "relieve-supply-duct",
            "relieve-return-duct",
            "raise-speed",
            "raise-rating",
        ],
        reached: 4,
        cases: &[
            "burner-stops-behind-a-black-filter",
            "coil-above-the-burners-matted",
            "carpets-laid-over-the-grilles",
            "elements-cut-out-behind-a-caked-wheel",
        ],
    },
    row(
        "limit trips",
        "limit itself weak",
        &[FURNACES, SMALL_HEATING],
        &["replace-limit-switch"],
        &["limit-opens-below-its-mark"],
    ),
];

fn case(name: &str) -> &'static Case {
    CASES.iter().find(|case| case.name == name).unwrap_or_else(|| panic!("no case `{name}`"))
}

/// The endings that a case comes to, played through the trees, and what was asked and is not in it.
fn walked(name: &str) -> (Vec<&'static str>, Vec<&'static str>) {
    let verdict = replay(&BOOK, case(name)).unwrap();
    let unsaid = verdict.unanswered.iter().map(|unsaid| BOOK.fact(unsaid.fact).id.as_str()).collect();
    (verdict.ended.all().map(|reached| BOOK.ending(reached.ending).id.as_str()).collect(), unsaid)
}

#[test]
fn every_row_of_the_handbooks_ends_where_the_handbook_says() {
    let mut differ = Vec::new();
    for row in &ROWS {
        let mut reached = BTreeSet::new();
        for name in row.cases {
            let (endings, unsaid) = walked(name);
            if !unsaid.is_empty() {
                differ.push(format!("{name}: asked, and not in it: {unsaid:?}"));
            }
            match endings[..] {
                [ending] if row.endings.contains(&ending) => _ = reached.insert(ending),
                _ => differ.push(format!(
                    "{}: {}: {name}: {endings:?}, not of {:?}",
                    row.symptom, row.cause, row.endings
                )),
            }
        }
        if reached.len() < row.reached {
            differ.push(format!("{}: {}: only {reached:?} reached", row.symptom, row.cause));
        }
    }
    assert!(differ.is_empty(), "{}", differ.join("\n"));
}

#[test]
fn every_case_of_the_handbooks_walks_one_row_and_names_its_source() {
    let mut rows: BTreeMap<&str, &Row> = BTreeMap::new();
    for row in &ROWS {
        for name in row.cases {
            assert!(rows.insert(name, row).is_none(), "{name} walks two rows");
        }
    }
    let files = files("cases/handbooks", "yaml");
    assert_eq!(
        files.len(),
        rows.len(),
        "a case of the handbooks that walks no row, or a row whose case is gone"
    );
    for (name, row) in rows {
        let file = root().join(format!("cases/handbooks/{name}.yaml"));
        let text = fs::read_to_string(&file).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
        let head: Vec<&str> = text.lines().take_while(|line| line.starts_with('#')).collect();
        for source in row.sources {
            assert!(head.contains(&format!("# source: {source}, from memory").as_str()), "{name}: {source}");
        }
        assert!(head.contains(&format!("# row: {}: {}", row.symptom, row.cause).as_str()), "{name}: its row");
    }
}
