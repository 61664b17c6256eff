//! Calls that come from elsewhere a second time, and calls that went for good.

use super::contract::execute;
use super::logs::{at, dead_seat, held, on_both, opening, remark, remarks, seat_elsewhere, summary};
use super::server;
use crate::store::{Fault, Listed, Place, Record, Seat, Store, Wanted};
use engine::record::{End, Summary};

/// The same call elsewhere, with these remarks.
fn elsewhere(id: &str, texts: &[&str]) -> Record {
    let events = (0..).zip(texts).map(|(minute, text)| remark(text, minute)).collect();
    let count = u32::try_from(texts.len()).unwrap();
    let opening = opening(id, None, 0);
    let listed = Listed {
        number: 77,
        opening,
        last: at(50),
        events: count,
        summary: Some(summary(count)),
        holder: None,
    };
    Record { listed, events }
}

#[test]
fn a_call_is_gone_on_with_by_what_it_has_elsewhere_unless_somebody_was_faster() {
    on_both("lengthened", |place| {
        let mut log = place.open().unwrap();
        let seat = Seat::of_this_process();
        let number = held(log.as_mut(), "one", &dead_seat(), &["a", "b"]);
        let here = log.call(number).unwrap().listed;
        let longer = elsewhere("one", &["a", "b", "c", "d"]);
        // Another seat took it up since.
        log.hold(number, &seat, at(5), false).unwrap();
        assert!(!log.lengthen(&here, &longer).unwrap());
        assert_eq!(remarks(log.as_mut(), number), ["a", "b"]);
        // It wrote to it, and let it go.
        log.append(number, 2, &remark("x", 6), &seat).unwrap();
        log.release(number, &summary(3), &seat).unwrap();
        assert!(!log.lengthen(&Listed { holder: None, ..here }, &longer).unwrap());
        assert_eq!(remarks(log.as_mut(), number), ["a", "b", "x"]);

        let two = held(log.as_mut(), "two", &dead_seat(), &["a", "b"]);
        let here = log.call(two).unwrap().listed;
        assert!(log.lengthen(&here, &elsewhere("two", &["a", "b", "c", "d"])).unwrap());
        assert_eq!(remarks(log.as_mut(), two), ["a", "b", "c", "d"]);
        let listed = log.call(two).unwrap().listed;
        assert_eq!((listed.last, listed.events, listed.holder), (at(50), 4, None));
        assert_eq!(listed.summary, Some(summary(4)));
        // It is gone on with like any other.
        log.hold(two, &seat, at(60), false).unwrap();
        log.append(two, 4, &remark("e", 61), &seat).unwrap();
        assert_eq!(remarks(log.as_mut(), number), ["a", "b", "x"]);
    });
}

#[test]
fn of_a_forgotten_call_its_id_is_known_until_it_is_taken_in_again() {
    on_both("forgotten", |place| {
        let mut log = place.open().unwrap();
        for id in ["one", "two"] {
            held(log.as_mut(), id, &Seat::of_this_process(), &["a"]);
        }
        log.forget(1).unwrap();
        drop(log);
        let mut log = place.open().unwrap();
        let mut known = |ids: [&str; 3]| ids.map(|id| log.is_forgotten(id).unwrap());
        assert_eq!(known(["one", "two", "three"]), [true, false, false]);
        log.import(&elsewhere("one", &["a"])).unwrap();
        assert!(!log.is_forgotten("one").unwrap());
        // It may be forgotten again.
        log.forget(3).unwrap();
        assert!(log.is_forgotten("one").unwrap());
    });
}

/// The numbers of the calls that may be gone on with.
fn open(log: &mut dyn Store) -> Vec<i64> {
    let mut found = Vec::new();
    let wanted = Wanted { open: true, ..Wanted::default() };
    log.each(&wanted, &mut |listed| {
        found.push(listed.number);
        Ok(true)
    })
    .unwrap();
    found
}

#[test]
fn what_may_be_gone_on_with_is_what_came_to_no_end() {
    on_both("open", |place| {
        let mut log = place.open().unwrap();
        let seat = Seat::of_this_process();
        let end = |outcome: &str| End { ending: "fix".to_owned(), outcome: outcome.to_owned() };
        let ended = |outcome: &str| Summary { ends: vec![end(outcome)], ..summary(1) };
        for id in ["under way", "ended", "left", "killed"] {
            held(log.as_mut(), id, &seat, &["a"]);
        }
        log.release(2, &ended("proved"), &seat).unwrap();
        log.release(3, &ended("left"), &seat).unwrap();
        assert_eq!(open(log.as_mut()), [4, 3, 1]);
        // A list sums up what was killed.
        log.sum_up(4, &ended("proved")).unwrap();
        assert_eq!(open(log.as_mut()), [3, 1]);
        // One that has new words may be gone on with, whatever it had come to.
        log.hold(2, &seat, at(5), false).unwrap();
        log.append(2, 1, &remark("b", 6), &seat).unwrap();
        assert_eq!(open(log.as_mut()), [3, 2, 1]);
        let mut record = elsewhere("five", &["a"]);
        record.listed.summary = Some(ended("proved"));
        log.import(&record).unwrap();
        assert_eq!(open(log.as_mut()), [3, 2, 1]);
    });
}

/// The server only warns then, and the old pages stay.
#[test]
fn whoever_may_not_have_the_tables_made_anew_is_told_that_copies_may_remain() {
    let Some(url) = server::database("not_the_owner") else { return };
    let place = Place::Server(url.clone());
    let number = held(place.open().unwrap().as_mut(), "one", &seat_elsewhere(), &["a"]);
    let user = format!("desk_of_{}", std::process::id());
    execute(
        &place,
        &format!(
            "CREATE ROLE {user} LOGIN;
             GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA public TO {user}"
        ),
    );
    let mut theirs = Place::Server(url.replace("user=tests", &format!("user={user}"))).open().unwrap();
    let fault = theirs.forget(number).unwrap_err();
    assert!(matches!(fault, Fault::CopiesRemain { number: 1, .. }), "{fault}");
    assert!(fault.to_string().contains("copies of what was said in it may remain"), "{fault}");
    assert!(matches!(theirs.call(number), Err(Fault::NoCall(1))));
    // The owner's way leaves none.
    let mut owners = place.open().unwrap();
    let number = held(owners.as_mut(), "two", &seat_elsewhere(), &["a"]);
    owners.forget(number).unwrap();
    execute(&place, &format!("DROP OWNED BY {user}; DROP ROLE {user}"));
}
