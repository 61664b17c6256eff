//! Many seats at one log.

use super::logs::{on_both, opening, remark, remarks, summary};
use crate::store::{Place, Seat};

/// Calls that go on at the same time, each on a connection of its own.
fn crowd(place: &Place, seats: usize, words: u32) {
    std::thread::scope(|scope| {
        for id in 0..seats {
            scope.spawn(move || {
                let seat = Seat::of_this_process();
                let mut log = place.open().unwrap();
                let number = log.open(&opening(&id.to_string(), None, 0), &seat).unwrap();
                for word in 0..words {
                    log.append(number, word, &remark(&format!("{id}: {word}"), 1), &seat).unwrap();
                }
                log.release(number, &summary(words), &seat).unwrap();
            });
        }
    });
    let mut log = place.open().unwrap();
    for id in 0..seats {
        let number = log.number_of(&id.to_string()).unwrap().unwrap();
        let wanted: Vec<String> = (0..words).map(|word| format!("{id}: {word}")).collect();
        assert_eq!(remarks(log.as_mut(), number), wanted);
    }
}

#[test]
fn fifty_seats_at_once_lose_and_double_nothing() {
    on_both("fifty_seats", |place| crowd(place, 50, 8));
}
