//! Whole calls as they are played: one for each ending, pinned, and read one by one as the caller would hear it.

use crate::house::{BOOK, CASES, ends_of_calls, root};
use std::collections::BTreeSet;

/// For each ending the case that stands for it, below `cases/`.
const CONVERSATIONS: &[(&str, &str)] = &[
    ("air-in-order-so-far", "low-airflow/cooling-only-and-well-again"),
    ("airflow-in-range", "low-airflow/one-cold-room-and-all-in-order"),
    ("blower-cannot-be-stopped", "too-noisy/scrapes-on-with-its-breaker-off"),
    ("burner-noise", "too-noisy/burner-lights-with-a-bang"),
    ("cannot-prove-dead", "safety/one-pair-that-could-not-be-tested"),
    ("change-filter", "low-airflow/grey-filter-in-the-hall"),
    ("change-filter-inside", "low-airflow/grey-filter-behind-the-blower-door"),
    ("check-firing-rate", "trips/too-much-fire-for-the-air"),
    ("circuit-overloaded", "trips/freezer-on-the-furnace-circuit"),
    ("clean-coil", "low-airflow/matted-coil-over-the-furnace"),
    ("clean-wheel", "low-airflow/felt-in-the-blades"),
    ("clear-control-short", "no-run/staple-through-the-thermostat-cable"),
    ("clear-pinched-harness", "no-run/harness-under-the-motor-band"),
    ("close-access-panel", "no-run/panel-hung-on-one-hook"),
    ("connect-rating-lead", "no-run/all-rating-leads-capped"),
    ("correct-speed-lead", "no-run/speed-lead-still-in-its-cap"),
    ("correct-transformer-tap", "no-run/new-transformer-on-its-two-forty-tap"),
    ("fasten-panels", "too-noisy/panel-screw-left-out"),
    ("fasten-transformer", "too-noisy/transformer-on-one-screw"),
    ("filter-inside-loads-too-soon", "too-noisy/grey-again-behind-the-panel"),
    ("filter-loads-too-soon", "low-airflow/black-again-after-the-plasterers"),
    ("fit-filter", "low-airflow/slot-empty-after-the-painters"),
    ("fit-filter-inside", "start-up/rack-behind-the-panel-still-empty"),
    ("fit-link-115", "no-run/two-thirty-link-on-one-fifteen"),
    ("fit-link-230", "no-run/no-link-and-a-two-thirty-unit-on-two-oh-eight"),
    ("free-the-wheel", "no-run/wheel-scrapes-its-housing"),
    ("ground-fault-circuit", "trips/leak-somewhere-else-on-the-circuit"),
    ("have-board-judged", "no-run/dead-board-or-a-lead-in-its-sleeve"),
    ("have-call-followed", "no-run/only-the-motor-plug-can-be-probed"),
    ("have-firing-then-limit", "trips/limit-trips-and-the-meter-was-not-timed"),
    ("have-motor-judged", "no-run/harness-out-of-sight"),
    ("have-relearn-metered", "wrong-rotation/relearned-and-no-powers-noted"),
    ("help-the-injured", "safety/apprentice-held-by-the-cabinet"),
    ("leave-and-call-emergency", "safety/gas-smelled-at-the-furnace"),
    ("link-matches-by-running", "wrong-link/runs-on-one-fifteen-and-the-link-out-of-sight"),
    ("link-matches-supply", "wrong-link/right-link-after-all"),
    ("lower-rating", "trips/three-quarters-where-half-was"),
    ("lower-speed", "too-noisy/roar-on-the-highest-speed"),
    ("make-safe-and-hand-over", "safety/tingle-at-the-cabinet"),
    ("mount-too-small", "start-up/mount-a-quarter-short"),
    ("not-enough-readings", "trips/opens-early-and-nobody-felt-the-hub"),
    ("open-registers", "low-airflow/registers-shut-upstairs"),
    ("outdoor-unit-noise", "too-noisy/compressor-heard-through-the-wall"),
    ("put-speed-back", "too-noisy/lowered-and-the-heater-too-hot"),
    ("raise-rating", "low-airflow/third-horse-for-a-half"),
    ("raise-speed", "low-airflow/lowest-speed-after-the-change"),
    ("relearn-after-bad-first-run", "wrong-rotation/panel-off-to-watch-it-start"),
    ("relearn-after-interruption", "wrong-rotation/breaker-thrown-in-the-first-minute"),
    ("relearn-moved-motor", "wrong-rotation/came-off-the-neighbours-furnace"),
    ("relieve-return-duct", "low-airflow/one-grille-for-a-whole-house"),
    ("relieve-supply-duct", "low-airflow/supply-trunk-too-small"),
    ("renew-mount", "too-noisy/drone-through-the-floor"),
    ("repair-call-wiring", "no-run/call-wire-broken-at-a-splice"),
    ("repair-duct", "low-airflow/branch-fallen-in-the-crawl-space"),
    ("repair-line-connection", "no-run/line-wire-broken-in-its-sheath"),
    ("replace-control-board", "no-run/blower-relay-stuck-open"),
    ("replace-control-transformer", "no-run/transformer-open-inside"),
    ("replace-limit-switch", "trips/limit-weak-after-all"),
    ("replace-motor-bearing", "too-noisy/shaft-rocks-in-a-dropped-motor"),
    ("replace-motor-electronics", "no-run/all-there-and-still-dead"),
    ("replace-motor-grounded", "no-run/breaker-tripped-by-a-grounded-motor"),
    ("replace-motor-hunts", "too-noisy/hunts-with-all-in-order"),
    ("replace-motor-misreads-rotation", "wrong-rotation/ran-the-lower-way-with-all-in-order"),
    ("replace-motor-overvoltage", "no-run/one-fifteen-link-on-two-forty"),
    ("replace-motor-seized", "no-run/bearing-rusted-solid"),
    ("replace-motor-shorted", "no-run/breaker-tripped-by-a-shorted-input"),
    ("replace-motor-wet", "no-run/condensate-in-the-motor-plug"),
    ("replace-panel-switch", "no-run/panel-switch-worn-out"),
    ("replace-wheel", "too-noisy/wheel-bent-by-the-puller"),
    ("reseat-connectors", "no-run/line-plug-not-latched"),
    ("restore-motor-cooling", "trips/lint-on-the-motor-in-a-hot-closet"),
    ("restore-open-supply", "no-run/splice-burnt-open-in-the-attic"),
    ("rollout-stop", "safety/flame-at-the-burner-opening"),
    ("rotation-right", "wrong-rotation/only-looked-backwards-at-speed"),
    ("rotation-right-by-its-air", "wrong-rotation/out-of-sight-and-its-rise-in-the-plate"),
    ("same-fault-again", "two-faults/call-wire-broken-twice"),
    ("same-work-again", "low-airflow/registers-that-shut-themselves-again"),
    ("seal-cabinet-leak", "too-noisy/filter-cover-left-ajar"),
    ("set-blower-delay", "trips/blower-called-after-the-limit"),
    ("set-thermostat-call", "no-run/thermostat-set-to-off"),
    ("sound-as-fitted", "too-noisy/faint-hum-in-a-quiet-house"),
    ("sound-of-the-ducts", "too-noisy/lowest-speed-and-still-a-rush"),
    ("start-up-in-order", "start-up/furnace-checked-on-its-first-day"),
    ("start-up-in-order-so-far", "start-up/no-clamp-in-the-van"),
    ("stays-off-until-seen", "too-noisy/mount-loose-and-no-light-on-the-wheel"),
    ("stiffen-duct", "too-noisy/trunk-booms-at-each-start"),
    ("stop-short-cycling", "trips/thermostat-beside-the-register"),
    ("supply-voltage-high", "no-run/lights-bright-and-dim"),
    ("supply-voltage-low", "no-run/long-thin-cord-to-the-workshop"),
    ("switch-supply-on", "no-run/breaker-left-off-after-the-move"),
    ("thaw-and-find-cause", "low-airflow/ice-on-a-furnace-coil"),
    ("tighten-line-connection", "no-run/hot-screw-at-the-board"),
    ("tighten-mount", "too-noisy/belly-band-never-tightened"),
    ("tighten-wheel-then-relearn", "wrong-rotation/screw-on-the-round-of-the-shaft"),
    ("turn-wheel-round-then-relearn", "wrong-rotation/wheel-on-by-its-wrong-face"),
    ("wheel-type-not-suited", "wrong-rotation/leaning-blades-in-an-air-handler"),
];

#[test]
fn each_ending_has_its_conversation() {
    for (ending, path) in CONVERSATIONS {
        let name = path.rsplit('/').next().unwrap();
        let case = CASES.iter().find(|case| case.name == name).unwrap_or_else(|| panic!("no case {path}"));
        assert!(
            case.ends.iter().any(|id| BOOK.ending(*id).id == *ending),
            "{path} does not come to {ending}"
        );
        let case = root().join("cases").join(path).with_extension("yaml");
        let output =
            crate::house::program().args(["call", "--answers", case.to_str().unwrap()]).output().unwrap();
        let shown = String::from_utf8(output.stdout).unwrap();
        insta::with_settings!({ omit_expression => true }, {
            insta::assert_snapshot!(*ending, shown);
        });
    }
}

/// Those that a line of a tree leads to, and those of the engine's own that a case comes to.
#[test]
fn no_ending_that_a_call_can_come_to_is_left_out() {
    let shown: BTreeSet<&str> = CONVERSATIONS.iter().map(|(ending, _)| *ending).collect();
    let cases = CASES.iter().flat_map(|case| &case.ends).copied();
    let wanted: BTreeSet<&str> =
        ends_of_calls().into_iter().chain(cases).map(|id| BOOK.ending(id).id.as_str()).collect();
    assert_eq!(shown, wanted);
    assert_eq!(shown.len(), CONVERSATIONS.len(), "two conversations for one ending");
}
