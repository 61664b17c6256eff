//! The middle of a list of numbers.

/// The median; of an even count, the mean of the two in the middle. None of an empty list.
pub(super) fn median(mut numbers: Vec<f64>) -> Option<f64> {
    let half = numbers.len() / 2;
    let even = numbers.len().is_multiple_of(2);
    let (below, middle, _) = if numbers.is_empty() {
        return None;
    } else {
        numbers.select_nth_unstable_by(half, f64::total_cmp)
    };
    if !even {
        return Some(*middle);
    }
    let before = below.iter().copied().max_by(f64::total_cmp)?;
    Some(f64::midpoint(before, *middle))
}

/// A count, or one and a half.
pub(super) fn half(number: f64) -> String {
    if number.fract() == 0.0 { format!("{number:.0}") } else { format!("{number:.1}") }
}

#[cfg(test)]
mod tests {
    use super::median;

    #[test]
    fn of_an_even_count_it_lies_between_the_two_in_the_middle() {
        assert_eq!(median(vec![9.0, 1.0, 4.0, 2.0]), Some(3.0));
        assert_eq!(median(vec![9.0, 1.0, 4.0]), Some(4.0));
        assert_eq!(median(vec![7.0]), Some(7.0));
        assert_eq!(median(Vec::new()), None);
    }
}
