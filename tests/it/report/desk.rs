//! A small desk's log: cases played as calls, on days of the year 2025, as `import` takes them in.

use crate::house::{BOOK, program, root, written};
use engine::call::{Answerer, Call, DeedResult, Event, Halt, Prompt, Refusal, Reply, Wants, drive};
use engine::case::Player;
use engine::record::{Names, Summary};
use serde_json::{Value, json};
use std::io::Write as _;
use std::path::Path;
use std::process::Stdio;
use std::sync::{Arc, LazyLock};

/// A call as it is kept.
struct Kept {
    call: Call,
    id: String,
    day: &'static str,
    unit: Option<&'static str>,
    again_of: Option<&'static str>,
}

/// How far a case is played.
#[derive(Clone, Copy)]
enum Until {
    /// To its end.
    Ended,
    /// The line drops at this prompt.
    Dropped(u32),
    /// The person leaves at this prompt.
    Left(u32),
    /// The repair is left for another visit.
    Later,
}

/// Plays a case as far as that.
struct Playing<'c> {
    player: Player<'c>,
    until: Until,
    prompts: u32,
}

impl Answerer for Playing<'_> {
    fn reply(&mut self, call: &Call, prompt: &Prompt) -> Result<Reply, Halt> {
        self.prompts += 1;
        match (self.until, prompt.wants()) {
            (Until::Dropped(at), _) if at == self.prompts => Err(Halt("dropped".to_owned())),
            (Until::Left(at), _) if at == self.prompts => Ok(Reply::Leave),
            (Until::Later, Wants::Consent { .. }) => Ok(Reply::Deed(DeedResult::Later)),
            _ => self.player.reply(call, prompt),
        }
    }

    fn refused(&mut self, refusal: Refusal) {
        panic!("a case was refused: {refusal}");
    }

    fn happens(&mut self, call: &Call, event: &Event) -> Result<(), Halt> {
        self.player.happens(call, event)
    }
}

impl Kept {
    fn of(case: &str, until: Until, day: &'static str) -> Self {
        let text = std::fs::read_to_string(root().join("cases").join(case).with_extension("yaml")).unwrap();
        let case = written(&text);
        let mut call = Call::new(Arc::clone(&BOOK));
        let mut playing = Playing { player: Player::new(&BOOK, &case), until, prompts: 0 };
        let halted = drive(&mut call, &mut playing).is_err();
        assert_eq!(halted, matches!(until, Until::Dropped(_)));
        Self { call, id: format!("call of {day}"), day, unit: None, again_of: None }
    }

    fn on(mut self, unit: &'static str) -> Self {
        self.unit = Some(unit);
        self
    }

    fn again_of(mut self, id: &'static str) -> Self {
        self.again_of = Some(id);
        self
    }

    /// As `export` writes it.
    fn line(&self) -> Value {
        let names = Names::of(&BOOK);
        let at = format!("{}T10:00:00Z", self.day);
        let events = self.call.events().iter();
        let events: Vec<Value> = events.map(|event| json!({"at": at, "event": names.write(event)})).collect();
        let mut opening = json!({
            "id": self.id,
            "at": format!("{}T09:30:00Z", self.day),
            "rules": {"decide": "", "prose": "", "program": "0.1.0"},
        });
        for (key, value) in [("unit", self.unit), ("again_of", self.again_of)] {
            if let Some(value) = value {
                opening[key] = value.into();
            }
        }
        json!({
            "form": "motorwright-call-1",
            "number": 1,
            "opening": opening,
            "events": events,
            "summary": Summary::of(&self.call),
        })
    }
}

/// Twelve calls: two callbacks, a visit that had been left for later, two left open; as `export` writes them.
pub(super) static DESK: LazyLock<Vec<Value>> = LazyLock::new(|| {
    use Until::{Dropped, Ended, Later, Left};
    let call = Kept::of;
    let calls = [
        call("no-run/panel-off-and-the-breaker-room-locked", Ended, "2025-03-01").on("job 1"),
        call("no-run/breaker-left-off-after-the-move", Ended, "2025-03-11").on("job 1"),
        call("no-run/panel-off-and-the-breaker-room-locked", Ended, "2025-03-02").on("job 2"),
        call("low-airflow/felt-in-the-blades", Ended, "2025-03-03"),
        call("low-airflow/grey-filter-in-the-hall", Ended, "2025-03-09").again_of("call of 2025-03-03"),
        call("low-airflow/heat-pump-in-order", Ended, "2025-03-04").on("job 3"),
        call("low-airflow/heat-pump-in-order", Dropped(9), "2025-03-05").on("job 4"),
        call("trips/leaking-motor-on-a-loose-plug", Left(12), "2025-03-06").on("job 5"),
        call("trips/breaker-at-once-and-a-leak-to-case", Later, "2025-03-07").on("job 6"),
        call("trips/breaker-at-once-and-a-leak-to-case", Ended, "2025-03-17").on("job 6"),
        call("safety/gas-smelled-at-the-furnace", Ended, "2025-03-08").on("job 7"),
        // Too late for a callback.
        call("no-run/panel-off-and-the-breaker-room-locked", Ended, "2025-05-20").on("job 2"),
    ];
    calls.iter().map(Kept::line).collect()
});

/// Takes these calls into a log.
pub(super) fn import(log: &Path, calls: &[Value]) {
    let mut command = program();
    command.args(["import", "-", "--log-to"]).arg(log);
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    let mut input = child.stdin.take().unwrap();
    for call in calls {
        writeln!(input, "{call}").unwrap();
    }
    drop(input);
    let output = child.wait_with_output().unwrap();
    let said = String::from_utf8(output.stdout).unwrap();
    assert_eq!(said, format!("{} taken in, 0 here already, 0 refused\n", calls.len()));
}
