//! Every fault can be put in, and shows in at least one reading.

use crate::chance::Chance;
use crate::fault::Fault;
use crate::household::Callback;

pub(super) fn callbacks(fault: Fault) -> impl Iterator<Item = Callback> {
    (0..20).map(move |call| Callback::draw(&[fault], &mut Chance::of_call(5, call)).unwrap())
}

#[test]
fn a_fault_that_people_would_call_about_shows() {
    for fault in Fault::all() {
        let shows = callbacks(fault).filter(|callback| !callback.unit.shows().is_empty()).count();
        let mut said: Vec<_> = callbacks(fault).map(|callback| callback.complaint).collect();
        said.sort_unstable();
        said.dedup();
        println!("{:26} {shows:3}/20 {said:?}", fault.id());
    }
}
