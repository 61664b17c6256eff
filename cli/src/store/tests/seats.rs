//! One call, one seat.

use super::logs::{at, dead_seat, held, on_both, remark, remarks, seat_elsewhere, summary};
use crate::store::{Fault, Seat};

#[test]
fn a_second_seat_is_told_who_has_the_call_since_when_and_how_to_take_it_over() {
    on_both("second_seat", |place| {
        let (first, second) = (Seat::of_this_process(), Seat::of_this_process());
        assert_ne!(first.token, second.token);
        let mut one = place.open().unwrap();
        let mut two = place.open().unwrap();
        let number = held(one.as_mut(), "one", &first, &["a"]);
        let fault = two.hold(number, &second, at(5), false).unwrap_err();
        let Fault::Held { holder, .. } = &fault else { panic!("{fault}") };
        assert_eq!((&holder.seat, holder.since), (&first, at(0)));
        let told = fault.to_string();
        assert!(told.contains(&format!("{}, since {}", first.name, at(0))), "{told}");
        assert!(told.contains("motorwright resume 1 --take-over"), "{told}");
        // Nor may it write, or let go.
        assert!(matches!(two.append(number, 1, &remark("x", 5), &second), Err(Fault::TakenOver { .. })));
        assert!(matches!(two.release(number, &summary(1), &second), Err(Fault::TakenOver { .. })));
        one.append(number, 1, &remark("b", 6), &first).unwrap();
        assert_eq!(remarks(two.as_mut(), number), ["a", "b"]);
    });
}

#[test]
fn the_next_word_of_a_seat_that_was_taken_over_is_refused_and_not_on_record() {
    on_both("taken_over", |place| {
        let (first, second) = (seat_elsewhere(), Seat::of_this_process());
        let mut one = place.open().unwrap();
        let mut two = place.open().unwrap();
        let number = held(one.as_mut(), "one", &first, &["a"]);
        assert!(matches!(two.hold(number, &second, at(5), false), Err(Fault::Held { .. })));
        two.hold(number, &second, at(5), true).unwrap();
        let fault = one.append(number, 1, &remark("mine", 6), &first).unwrap_err();
        let Fault::TakenOver { holder, .. } = &fault else { panic!("{fault}") };
        assert_eq!((&holder.seat, holder.since), (&second, at(5)));
        assert!(fault.to_string().contains("your last answer is not on record"), "{fault}");
        assert!(matches!(one.release(number, &summary(1), &first), Err(Fault::TakenOver { .. })));
        two.append(number, 1, &remark("b", 7), &second).unwrap();
        assert_eq!(remarks(one.as_mut(), number), ["a", "b"]);
        two.release(number, &summary(2), &second).unwrap();
        // Let go, it is nobody's, and still not theirs.
        assert!(matches!(one.append(number, 2, &remark("mine", 8), &first), Err(Fault::NotHeld(1))));
        one.hold(number, &first, at(9), false).unwrap();
        one.append(number, 2, &remark("c", 9), &first).unwrap();
        assert_eq!(remarks(two.as_mut(), number), ["a", "b", "c"]);
    });
}

#[test]
fn a_dead_seat_is_taken_over_without_asking_and_no_other() {
    on_both("dead_seat", |place| {
        let (dead, living) = (dead_seat(), Seat::of_this_process());
        assert!(dead.is_gone() && !living.is_gone() && !seat_elsewhere().is_gone());
        let mut log = place.open().unwrap();
        let number = held(log.as_mut(), "one", &dead, &["a"]);
        log.hold(number, &living, at(5), false).unwrap();
        log.append(number, 1, &remark("b", 5), &living).unwrap();
        assert!(matches!(log.append(number, 2, &remark("x", 6), &dead), Err(Fault::TakenOver { .. })));
        let elsewhere = held(log.as_mut(), "two", &seat_elsewhere(), &[]);
        assert!(matches!(log.hold(elsewhere, &living, at(5), false), Err(Fault::Held { .. })));
    });
}

#[test]
fn of_many_who_take_up_a_free_call_at_once_one_gets_it() {
    on_both("at_once", |place| {
        let seat = Seat::of_this_process();
        let mut log = place.open().unwrap();
        let number = held(log.as_mut(), "one", &seat, &["a"]);
        log.release(number, &summary(1), &seat).unwrap();
        let taken = std::thread::scope(|scope| {
            let threads = [(); 8].map(|()| {
                scope.spawn(|| {
                    let seat = Seat::of_this_process();
                    let mut log = place.open().unwrap();
                    match log.hold(number, &seat, at(1), false) {
                        Ok(()) => log.append(number, 1, &remark("b", 1), &seat).map(|()| 1).unwrap(),
                        Err(Fault::Held { .. }) => 0,
                        Err(fault) => panic!("{fault}"),
                    }
                })
            });
            threads.into_iter().map(|thread| thread.join().unwrap()).sum::<u32>()
        });
        assert_eq!(taken, 1);
        assert_eq!(remarks(log.as_mut(), number), ["a", "b"]);
    });
}

/// However two seats come in between each other, each word that was taken is there once, in its place.
#[test]
fn seats_that_take_a_call_from_each_other_lose_no_word() {
    on_both("to_and_fro", |place| {
        let first = Seat::of_this_process();
        let number = held(place.open().unwrap().as_mut(), "one", &first, &[]);
        let words: Vec<String> = std::thread::scope(|scope| {
            let threads = ["p", "q", "r"].map(|who| {
                scope.spawn(move || {
                    let mut log = place.open().unwrap();
                    let mut taken = Vec::new();
                    for round in 0..10 {
                        let seat = Seat::of_this_process();
                        // Another may be faster; then it is their turn.
                        if log.hold(number, &seat, at(round), true).is_err() {
                            continue;
                        }
                        let there = u32::try_from(log.events_of(number).unwrap().len()).unwrap();
                        for place in there..there + 3 {
                            let text = format!("{who} {round} {place}");
                            match log.append(number, place, &remark(&text, round), &seat) {
                                Ok(()) => taken.push(text),
                                Err(Fault::TakenOver { .. } | Fault::NotHeld(_)) => break,
                                Err(fault) => panic!("{fault}"),
                            }
                        }
                    }
                    taken
                })
            });
            threads.into_iter().flat_map(|thread| thread.join().unwrap()).collect()
        });
        let mut kept = remarks(place.open().unwrap().as_mut(), number);
        let places = kept.iter().map(|text| text.rsplit(' ').next().unwrap().parse::<usize>().unwrap());
        assert!(places.eq(0..kept.len()), "{kept:?}");
        let mut words = words;
        words.sort();
        kept.sort();
        assert_eq!(kept, words);
        assert!(!kept.is_empty());
    });
}
