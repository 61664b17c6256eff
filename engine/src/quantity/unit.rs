//! A unit, and how its name is recognised.

use std::fmt;

use super::dimension::Dimension;
use super::table::{Row, rows};

/// A unit of the closed table. Cheap to copy; equal only to itself, so the °F of a temperature and the
/// °F of a difference are different units.
#[derive(Clone, Copy, Eq, Hash, PartialEq)]
pub struct Unit {
    dimension: Dimension,
    /// Place in the dimension's list; only this file makes one, always from that list.
    place: usize,
}

impl Unit {
    /// The unit that `text` names, in any dimension; a temperature before a temperature difference.
    ///
    /// Blanks, dots and, where nothing is at stake, capitals are not heeded. `mohm` is `None`: it is read
    /// as milliohms and as megohms.
    ///
    /// ```
    /// use engine::quantity::{Dimension, Unit};
    /// assert_eq!(Unit::parse("in. w.c."), Unit::parse("\"wc"));
    /// assert_eq!(Unit::parse("°F").unwrap().dimension(), Dimension::Temperature);
    /// assert_eq!(Unit::parse("mohm"), None);
    /// ```
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        Dimension::ALL.into_iter().find_map(|dimension| Self::parse_in(text, dimension))
    }

    /// The unit of `dimension` that `text` names.
    #[must_use]
    pub fn parse_in(text: &str, dimension: Dimension) -> Option<Self> {
        let name = compact(text);
        let lower = name.to_lowercase();
        let place = rows(dimension).iter().position(|row| {
            row.spelled.iter().any(|&spelling| {
                if spelling.contains(char::is_uppercase) { spelling == name } else { spelling == lower }
            })
        })?;
        Some(Self { dimension, place })
    }

    /// Every unit of a dimension, the base unit first.
    pub fn all(dimension: Dimension) -> impl Iterator<Item = Self> {
        (0..rows(dimension).len()).map(move |place| Self { dimension, place })
    }

    /// The base unit of a dimension.
    pub(super) const fn base_of(dimension: Dimension) -> Self {
        Self { dimension, place: 0 }
    }

    /// What a bare prefix means where this is the usual unit: the multiplier, and its unit.
    pub(super) fn prefixed(self, prefix: &str) -> Option<(f64, Self)> {
        let prefix = match compact(prefix).as_str() {
            "K" => "k".to_owned(),
            other => other.to_owned(),
        };
        let (_, times, symbol) = self.row().prefixed.iter().find(|(known, ..)| *known == prefix)?;
        Some((*times, Self::parse_in(symbol, self.dimension)?))
    }

    /// The unit whose spelling is nearest to `text`, where one is near.
    pub(super) fn near(text: &str, dimension: Option<Dimension>) -> Option<Self> {
        let lower = compact(text).to_lowercase();
        let allowed = if lower.chars().count() < 5 { 1 } else { 2 };
        Dimension::ALL
            .into_iter()
            .filter(|&one| dimension.is_none_or(|wanted| wanted == one))
            .flat_map(Self::all)
            .flat_map(|unit| unit.row().spelled.iter().map(move |spelling| (spelling, unit)))
            .filter(|(spelling, _)| spelling.chars().count() > 1)
            .map(|(spelling, unit)| (strsim::damerau_levenshtein(&lower, &spelling.to_lowercase()), unit))
            .filter(|&(distance, _)| distance <= allowed)
            .min_by_key(|&(distance, _)| distance)
            .map(|(_, unit)| unit)
    }

    /// What kind of quantity the unit measures.
    #[must_use]
    pub fn dimension(self) -> Dimension {
        self.dimension
    }

    /// As shown after a number: `V`, `in. w.c.`, `°F`, `MΩ`, `Btu/h`; empty for a count.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        self.row().symbol
    }

    /// As the quickest to type on any keyboard: `V`, `in wc`, `F`, `Mohm`; empty for a count.
    #[must_use]
    pub fn typed(self) -> &'static str {
        self.row().typed
    }

    /// As said aloud, in the plural: `volts`, `inches of water column`; empty for a count.
    #[must_use]
    pub fn spoken(self) -> &'static str {
        self.row().spoken
    }

    /// The value in the base unit of `number` of this unit, its offset counted for a temperature.
    #[must_use]
    pub fn to_base(self, number: f64) -> f64 {
        (number + self.row().shift) * self.row().factor
    }

    /// The number of this unit that has `base` in the base unit: the inverse of [`to_base`](Self::to_base).
    ///
    /// On a scale with an offset the result is rounded to 1e-9, where the subtraction leaves noise.
    #[must_use]
    pub fn from_base(self, base: f64) -> f64 {
        let number = base / self.row().factor - self.row().shift;
        if self.row().shift > 0.0 && number.abs() < 1e6 { (number * 1e9).round() / 1e9 } else { number }
    }

    /// A difference of `number` of this unit, in the base unit: no offset even for a temperature.
    pub(crate) fn interval_to_base(self, number: f64) -> f64 {
        number * self.row().factor
    }

    pub(super) fn row(self) -> &'static Row {
        &rows(self.dimension)[self.place]
    }
}

impl fmt::Debug for Unit {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "Unit({} of {})", self.symbol(), self.dimension.word())
    }
}

/// The name without what people write differently: blanks, dots, hyphens, look-alike signs.
pub(super) fn compact(text: &str) -> String {
    let mut name = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '.' | '-' => {}
            blank if blank.is_whitespace() => {}
            'º' | '˚' => name.push('°'),
            '″' | '”' | '“' => name.push('"'),
            '′' | '’' | '‘' => name.push('\''),
            '\u{2126}' => name.push('\u{3a9}'),
            'µ' | 'μ' => name.push('u'),
            '²' | '₂' => name.push('2'),
            '³' | '₃' => name.push('3'),
            other => name.push(other),
        }
    }
    if name.starts_with("''") { name.replacen("''", "\"", 1) } else { name }
}

#[cfg(test)]
mod tests {
    use super::{Dimension, Unit, compact};

    #[test]
    fn every_symbol_and_typed_form_names_its_own_unit() {
        for unit in Dimension::ALL.into_iter().filter(|&one| one != Dimension::Count).flat_map(Unit::all) {
            for form in [unit.symbol(), unit.typed(), unit.spoken()] {
                assert_eq!(Unit::parse_in(form, unit.dimension()), Some(unit), "{form}");
            }
        }
    }

    #[test]
    fn every_spelling_is_compact_and_means_one_unit() {
        for unit in Dimension::ALL.into_iter().flat_map(Unit::all) {
            for spelling in unit.row().spelled {
                assert_eq!(compact(spelling), *spelling);
                let mut meant: Vec<_> =
                    Dimension::ALL.into_iter().filter_map(|one| Unit::parse_in(spelling, one)).collect();
                meant.retain(|one| one.dimension() != Dimension::TemperatureDifference);
                assert!(meant.len() <= 1, "{spelling}: {meant:?}");
            }
        }
    }

    #[test]
    fn the_first_unit_of_a_dimension_is_its_base() {
        for unit in Dimension::ALL.map(Dimension::base_unit) {
            assert!((unit.to_base(7.0) - 7.0).abs() < f64::EPSILON, "{unit:?}");
        }
    }

    #[test]
    fn every_prefix_leads_to_a_unit_of_the_same_dimension() {
        for unit in Dimension::ALL.into_iter().flat_map(Unit::all) {
            for (prefix, ..) in unit.row().prefixed {
                assert!(unit.prefixed(prefix).is_some(), "{prefix} {unit:?}");
            }
        }
    }
}
