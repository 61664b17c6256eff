//! `motorwright replay`: what is said of a case that differs, and what calls cost.

use crate::house::root;
use crate::pond::Folder;
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;

/// What it showed of one case, and its exit code.
fn replayed(name: &str, text: &str) -> (String, Option<i32>) {
    replayed_with(name, text, &[])
}

fn replayed_with(name: &str, text: &str, words: &[&str]) -> (String, Option<i32>) {
    let folder = std::env::temp_dir().join(format!("motorwright-{name}-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    let case = folder.join(format!("{name}.yaml"));
    fs::write(&case, text).unwrap();
    let output = crate::house::program().arg("replay").arg(&case).args(words).output().unwrap();
    fs::remove_dir_all(&folder).unwrap();
    let shown = String::from_utf8(output.stdout).unwrap();
    (shown.replace(&case.display().to_string(), "CASE"), output.status.code())
}

#[test]
fn a_case_that_differs_is_named_with_what_it_leaves_open_and_how_to_watch_it() {
    let (shown, code) = replayed(
        "breaker-not-said",
        "case: breaker-not-said\nanswers: {complaint: no_run}\nends: close-access-panel\n",
    );
    assert_eq!(code, Some(1), "{shown}");
    assert!(shown.contains("\nCASE: asked, and not in it: "), "{shown}");
    assert!(shown.contains("breaker_position"), "{shown}");
    assert!(!shown.contains("danger_seen"), "the case need not speak of danger: {shown}");
    assert!(shown.contains("watch it: motorwright call --answers CASE\n"), "{shown}");
    assert!(shown.ends_with("\n1 case: 0 agree, 1 differs\n"), "{shown}");
}

/// What is not in a case may have nothing to do with it: the lines that led elsewhere are what to look at.
#[test]
fn a_case_that_differs_is_shown_with_the_lines_that_led_elsewhere() {
    let case = |ends: &str| format!("case: led\nanswers: {{fault: trips}}\nends: {ends}\n");
    let shown = replayed_at_the_pond("led", &case("clear-impeller"));
    let led =
        "\nCASE: led to `low-supply` by\n  pump: danger: it is safe to go on\n  pump: fault: it may be wet\n";
    assert!(shown.contains(led), "{shown}");
    assert!(!replayed_at_the_pond("led", &case("low-supply")).contains("led to"));
}

/// Nobody sees in a line of readings which of them the proof of the work failed by.
#[test]
fn work_that_was_not_proved_is_named_with_what_was_read_and_what_is_expected() {
    let case = |amps: &str| {
        let after = format!("{{pump_runs: yes, pump_amps: {amps}, fault_gone: yes, impeller_turns: free}}");
        let found = "fault: hums, plugs: 1, water_in_trap: full, impeller_turns: stuck";
        format!(
            "case: proof\nanswers: {{{found}}}\nends: clear-impeller\nafter: {{clear-impeller: {after}}}\n"
        )
    };
    let shown = replayed_at_the_pond("proof", &case("9 A"));
    let told =
        "\nCASE: `clear-impeller` was not proved: pump_amps is 9 A, and its proof expects at most 6 A\n";
    assert!(shown.contains(told), "{shown}");
    assert!(!replayed_at_the_pond("proof", &case("5 A")).contains("not proved"));
}

/// What stands so near an edge may come out either way with the next meter.
#[test]
fn a_line_that_the_meter_cannot_be_sure_of_is_marked() {
    let case = |volts: &str| {
        format!(
            "case: edge\nanswers: {{fault: no_water, water_in_trap: full, impeller_turns: free, switch_position: on, \
             plate_supply: 110-volt, volts_at_pump: {volts}, bench_allowed: yes, plugs: 1}}\nends: clear-impeller\n"
        )
    };
    let mark = "pump: volts: too few (within the meter's doubt of an edge)\n";
    let shown = replayed_at_the_pond("edge", &case("87.9 V"));
    assert!(shown.contains(mark), "{shown}");
    let shown = replayed_at_the_pond("edge", &case("50 V"));
    assert!(shown.contains("pump: volts: too few\n"), "{shown}");
}

/// Every name of somebody's own rules is unknown where they forgot to name these.
#[test]
fn many_names_that_the_rules_built_in_do_not_know_are_one_slip() {
    let text = "case: pond\nanswers: {fault: hums, plugs: 1, water_in_trap: full, impeller_turns: free}\n\
                ends: clear-impeller\n";
    let folder = tempfile::tempdir().unwrap();
    let case = folder.path().join("pond.yaml");
    fs::write(&case, text).unwrap();
    let output = crate::house::program().arg("replay").arg(&case).output().unwrap();
    let told = String::from_utf8(output.stderr).unwrap();
    assert_eq!(told.matches("error: unknown-id").count(), 1, "{told}");
    assert!(told.contains("\nmotorwright: 4 more names are not known, each like the first\n"), "{told}");
    assert!(told.ends_with("give others with --rules DIR\n"), "{told}");
}

#[test]
fn one_case_that_agrees_is_one_case() {
    let case = root().join("cases/no-run/breaker-left-off-after-the-move.yaml");
    let (shown, code) = replayed("breaker-left-off-after-the-move", &fs::read_to_string(case).unwrap());
    assert!(shown.ends_with("\n1 case: 1 agrees, 0 differ\n") && code == Some(0), "{shown}");
}

/// It is not among those that agree, and nobody would miss it there.
#[test]
fn cases_under_a_name_that_is_not_read_are_told_of_and_all_is_not_well() {
    let case =
        |name: &str| format!("# of the pond\ncase: {name}\nanswers: {{fault: trips}}\nends: low-supply\n");
    let folder = Folder::new("cases-unread", &[]);
    let cases = folder.path().with_extension("cases");
    let replay = |others: &[&str]| {
        fs::create_dir_all(&cases).unwrap();
        fs::write(cases.join("wet.yaml"), case("wet")).unwrap();
        fs::write(cases.join("notes.txt"), "cases: to be written\nthe case: none\n").unwrap();
        for name in others {
            fs::write(cases.join(name), case("dry")).unwrap();
        }
        let words = [cases.as_os_str(), "--rules".as_ref(), folder.path().as_os_str()];
        let output = crate::house::program().arg("replay").args(words).output().unwrap();
        fs::remove_dir_all(&cases).unwrap();
        let [shown, told] = [output.stdout, output.stderr].map(|said| String::from_utf8(said).unwrap());
        assert!(shown.ends_with("\n1 case: 1 agrees, 0 differ\n"), "{shown}{told}");
        (told, output.status.code())
    };
    assert_eq!(replay(&[]), (String::new(), Some(0)));
    for name in ["dry.yaml.txt", "dry.YAML", "dry.txt"] {
        let (told, code) = replay(&[name]);
        let place =
            format!("{}:2:1: warning: file-not-read: this begins as a case, ", cases.join(name).display());
        assert!(told.starts_with(&place) && code == Some(1), "{told}");
    }
}

/// The drop that was first heard wrong, and what was read when it was taken anew.
const HEARD: [&str; 2] = ["0.32 in wc", "0.12 in wc"];

#[test]
fn readings_that_cannot_all_be_true_are_named_with_what_they_break() {
    let slip = fs::read_to_string(root().join("cases/slips/thirty-two-for-twelve.yaml")).unwrap();
    let list = format!("[{}, {}]", HEARD[0], HEARD[1]);
    assert!(slip.contains(&list), "{slip}");
    let (quiet, _) = replayed("thirty-two-for-twelve", &slip);
    assert!(!quiet.contains("note:"), "the second reading is meant for that: {quiet}");
    let (shown, code) = replayed("thirty-two-for-twelve", &slip.replace(&list, HEARD[0]));
    assert!(shown.contains("\nCASE: note: its readings break `coil-within-supply-static`: "), "{shown}");
    assert!(shown.contains("give it a second reading: static_supply, coil_pressure_drop"), "{shown}");
    assert_eq!(code, Some(1), "it is taken at its word, and ends elsewhere: {shown}");
    let (row, _) = replayed_with("thirty-two-for-twelve", &slip.replace(&list, HEARD[0]), &["--json"]);
    assert_eq!(lines(&row).next().unwrap()["breaks"], serde_json::json!(["coil-within-supply-static"]));
}

#[test]
fn no_slip_that_is_taken_anew_breaks_a_relation_in_the_end() {
    for case in lines(&of("cases/slips", &["--json"])) {
        assert_eq!(case["breaks"], serde_json::json!([]), "{case}");
    }
}

/// What `replay` shows of the cases of a dead motor, with these words behind.
fn of_many(words: &[&str]) -> String {
    of("cases/no-run", words)
}

fn of(cases: &str, words: &[&str]) -> String {
    let mut command = crate::house::program();
    let output = command.arg("replay").arg(root().join(cases)).args(words).output().unwrap();
    String::from_utf8(output.stdout).unwrap()
}

fn lines(json: &str) -> impl Iterator<Item = Value> + '_ {
    json.lines().map(|line| serde_json::from_str(line).unwrap())
}

/// By the cases one by one: half of the calls cost no more than the median, half no less, and none more than the most.
#[test]
fn the_costs_by_ending_are_those_of_the_cases_that_come_to_it_last() {
    let mut cases: BTreeMap<String, Vec<Value>> = BTreeMap::new();
    for case in lines(&of_many(&["--json"])) {
        let last = case["reached"].as_array().unwrap().last().unwrap().as_str().unwrap().to_owned();
        cases.entry(last).or_default().push(case);
    }
    let costs: Vec<Value> = lines(&of_many(&["--json", "--by-ending"])).collect();
    assert_eq!(costs.len(), cases.len(), "a line for each ending, and no other");
    for cost in &costs {
        let ending = cost["ending"].as_str().unwrap();
        let of_it = &cases[ending];
        assert_eq!(cost["cases"].as_u64().unwrap(), of_it.len() as u64, "{ending}");
        for what in ["asked", "lockouts", "minutes"] {
            let numbers: Vec<f64> = of_it.iter().map(|case| case[what].as_f64().unwrap()).collect();
            let (median, most) =
                (cost[what]["median"].as_f64().unwrap(), cost[what]["most"].as_f64().unwrap());
            let half = numbers.len().div_ceil(2);
            assert!(numbers.iter().filter(|number| **number <= median).count() >= half, "{ending}: {what}");
            assert!(numbers.iter().filter(|number| **number >= median).count() >= half, "{ending}: {what}");
            let largest = numbers.iter().copied().fold(0.0, f64::max);
            assert!((most - largest).abs() < 1e-9, "{ending}: {what}");
        }
    }
    let medians: Vec<f64> = costs.iter().map(|cost| cost["minutes"]["median"].as_f64().unwrap()).collect();
    assert!(medians.is_sorted_by(|left, right| left >= right), "the dearest first: {medians:?}");
}

#[test]
fn the_table_by_ending_names_each_ending_once_and_still_counts_the_cases() {
    let shown = of_many(&["--by-ending"]);
    let table: Vec<&str> = shown.lines().take_while(|line| !line.is_empty()).collect();
    let heading = "last ending cases questions, median most lock-outs, median most minutes, median most";
    assert_eq!(table[0].split_whitespace().collect::<Vec<_>>().join(" "), heading);
    let mut endings: Vec<&str> =
        table[1..].iter().map(|line| line.split_whitespace().next().unwrap()).collect();
    let count: usize =
        table[1..].iter().map(|line| line.split_whitespace().nth(1).unwrap().parse::<usize>().unwrap()).sum();
    let rows = endings.len();
    endings.sort_unstable();
    endings.dedup();
    assert_eq!(endings.len(), rows);
    assert!(shown.lines().last().unwrap().starts_with(&format!("{count} cases: ")), "{shown}");
}

/// A call with a second fault counts for what it came to in the end, with all that it cost.
#[test]
fn a_call_with_two_endings_counts_for_the_last() {
    let case = root().join("cases/two-faults/panel-then-call-then-wheel.yaml");
    let of = |words: &[&str]| {
        let mut command = crate::house::program();
        let output = command.arg("replay").arg(&case).args(words).output().unwrap();
        serde_json::from_slice::<Value>(&output.stdout).unwrap()
    };
    let (call, cost) = (of(&["--json"]), of(&["--json", "--by-ending"]));
    assert!(call["reached"].as_array().unwrap().len() > 1);
    assert_eq!(cost["ending"], *call["reached"].as_array().unwrap().last().unwrap());
    for what in ["asked", "lockouts", "minutes"] {
        assert_eq!(cost[what]["median"].as_f64(), call[what].as_f64());
    }
}

/// What it showed of a case of the pond pump, whose ending `pump-in-order` answers no complaint.
fn replayed_at_the_pond(name: &str, case: &str) -> String {
    let folder = Folder::new(&format!("{name}-pond"), &[]);
    replayed_with(name, case, &["--rules", folder.path().to_str().unwrap()]).0
}

#[test]
fn an_ending_in_order_that_does_not_answer_the_complaint_is_named_with_what_it_takes() {
    let case = |name: &str, gone: &str| {
        let found = format!("fault: hums, plugs: 1, water_in_trap: full, impeller_turns: free{gone}");
        format!("case: {name}\nanswers: {{{found}}}\nends: pump-in-order\n")
    };
    let shown = replayed_at_the_pond("no-answer", &case("no-answer", ""));
    let why = "\nCASE: the ending `pump-in-order` does not answer `hums`: \
               add it under `answers complaint`, or give `fault_gone`\n";
    assert!(shown.contains("\nCASE: asked, and not in it: fault_gone\n") && shown.contains(why), "{shown}");
    // Where the case says that the fault is still there, it says all that was asked.
    let shown = replayed_at_the_pond("not-gone", &case("not-gone", ", fault_gone: no"));
    assert!(shown.contains("DIFFERS") && !shown.contains("does not answer"), "{shown}");
}

#[test]
fn what_a_deed_made_stale_is_named_with_its_ending() {
    let case = root().join("cases/trips/limit-opens-and-the-motor-is-dead.yaml");
    let case = fs::read_to_string(case).unwrap();
    let after = "{motor_runs: yes, complaint_gone: yes, connectors_condition: sound}";
    assert!(case.contains(after), "{case}");
    let (shown, _) = replayed("limit-opens-and-the-motor-is-dead", &case.replace(after, "{motor_runs: no}"));
    assert!(shown.contains("connectors_condition after `reseat-connectors`"), "{shown}");
}

/// It may agree only because nobody asked.
#[test]
fn what_a_case_states_and_nothing_asked_for_is_remarked_on() {
    let (shown, _) = replayed(
        "says-too-much",
        "case: says-too-much\nanswers: {complaint: no_run, breaker_position: tripped, noise_heard: scrapes}\n\
         ends: not-enough-readings\n",
    );
    assert!(shown.contains("CASE: note: stated in it, and never asked for: noise_heard\n"), "{shown}");
}

/// What is stated behind a deed counts too: where the call goes on by what was there before, and where none of it is
/// asked for, since that deed is never done.
#[test]
fn what_a_case_states_behind_a_deed_and_nothing_came_of_is_remarked_on() {
    let case = |behind: &str| {
        format!(
            "case: behind\nanswers: {{fault: hums, water_in_trap: full, impeller_turns: stuck}}\n\
             ends: clear-impeller\nafter: {{{behind}}}\n"
        )
    };
    let after = "clear-impeller: {pump_runs: yes, pump_amps: 4 A, fault_gone: yes, water_in_trap: ";
    let shown = replayed_at_the_pond("behind", &case(&format!("{after}full}}")));
    assert!(!shown.contains("stated in it, and never asked for: water"), "{shown}");
    let shown = replayed_at_the_pond("behind", &case(&format!("{after}empty}}")));
    assert!(shown.contains("never asked for: water_in_trap after `clear-impeller`\n"), "{shown}");
    let shown = replayed_at_the_pond("behind", &case("fill-trap: {pump_runs: yes}"));
    assert!(shown.contains("never asked for: pump_runs after `fill-trap`\n"), "{shown}");
}
