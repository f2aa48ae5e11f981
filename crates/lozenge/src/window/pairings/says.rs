//! What is said of counts and arrangements.

use layout::pairings::{Arrangement, Exchange, Measured, Turning, Wrap};
use num_bigint::BigUint;

use super::catalogue::Catalogue;
use super::sifting::Sifted;
use crate::words::{counted, grouped, state_letter};
use layout::pairings::Coverage;

/// The exact number in words, such as "1,099,528,013,448 arrangements".
#[must_use]
pub fn count_says(catalogue: &Catalogue) -> String {
    let digits = catalogue.count().to_string();
    format!("{} {}", grouped(&digits), if digits == "1" { "arrangement" } else { "arrangements" })
}

/// What counts once, and how many ways there are in all.
#[must_use]
pub fn listed_as(catalogue: &Catalogue) -> String {
    let choices = catalogue.choices();
    let turned = if catalogue.has_quarter_turns() { "turned" } else { "turned half round" };
    let repeats = choices.wrap == Wrap::Repeats;
    let parts = [
        (choices.same.turning != Turning::Fixed, turned),
        (choices.same.turning == Turning::TurnsAndMirrors, "mirrored"),
        (choices.same.shifts && repeats, "shifted"),
        (choices.same.exchange == Exchange::Colours, "with dark and light exchanged"),
    ];
    let parts: Vec<&str> = parts.into_iter().filter(|(counts, _)| *counts).map(|(_, words)| words).collect();
    let fillings = grouped(&catalogue.fillings().to_string());
    let size = match (choices.rows, choices.columns) {
        (1, 1) => "one block".to_owned(),
        (rows, columns) => format!("{rows} × {columns} blocks"),
    };
    let ways = if fillings == "1" { "way" } else { "ways" };
    match parts.split_last() {
        None => format!("Each of the {fillings} {ways} to fill {size} counts."),
        Some((last, [])) => format!("Of {fillings} {ways} to fill {size}; those alike when {last} count once."),
        Some((last, before)) => {
            let before = before.join(", ");
            format!("Of {fillings} {ways} to fill {size}; those alike when {before} or {last} count once.")
        }
    }
}

/// A count as it is read at a glance: exact up to seven digits, else such as "1.1 × 10¹²".
#[must_use]
pub fn about(count: &BigUint) -> String {
    let digits = count.to_string();
    if digits.len() <= 7 {
        return grouped(&digits);
    }
    let tenths = |digits: &str| digits.get(..3).and_then(|three| three.parse::<u32>().ok()).map(|n| (n + 5) / 10);
    let (mut tenths, mut power) = (tenths(&digits).unwrap_or(10), digits.len() - 1);
    if tenths >= 100 {
        (tenths, power) = (10, power + 1);
    }
    let raised = |digit: char| "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().nth(digit.to_digit(10).unwrap_or(0) as usize).unwrap_or(digit);
    let power: String = power.to_string().chars().map(raised).collect();
    format!("{}.{} × 10{power}", tenths / 10, tenths % 10)
}

/// How many were found, and of how many: a sample is called one.
#[must_use]
pub fn sifted_says(sifted: &Sifted) -> String {
    let found = grouped(&sifted.numbers.len().to_string());
    let looked = grouped(&sifted.looked_at.to_string());
    match &sifted.coverage {
        Coverage::All if sifted.numbers.len() == sifted.looked_at => format!("all {found}, sorted"),
        Coverage::All => format!("{found} of {looked}"),
        Coverage::Sample { of } if sifted.numbers.len() == sifted.looked_at => {
            format!("sample: {looked} of {}", about(of))
        }
        Coverage::Sample { of } => format!("{found} of a sample: {looked} of {}", about(of)),
    }
}

/// All that was found about an arrangement.
#[must_use]
pub fn measures_say(measured: &Measured) -> String {
    let stars = counted(measured.stars.into(), "complete star", "complete stars");
    let dark = counted(measured.dark_islands.into(), "dark island", "dark islands");
    let light = counted(measured.light_islands.into(), "light island", "light islands");
    let symmetry = capitalised(&measured.symmetry.words());
    format!("{symmetry}; {stars}; {dark}, {light}; {}", dark_says(measured))
}

/// The same in two short lines.
#[must_use]
pub fn brief(measured: &Measured) -> [String; 2] {
    let stars = counted(measured.stars.into(), "star", "stars");
    [capitalised(&measured.symmetry.words()), format!("{stars} · {}", dark_says(measured))]
}

/// Which part is dark, to the nearest hundredth.
fn dark_says(measured: &Measured) -> String {
    format!("{:.0} % dark", measured.dark.to_f64() * 100.0)
}

/// The states of the cells as letters, row by row.
#[must_use]
pub fn cells_say(arrangement: &Arrangement) -> String {
    let row = |states: &[layout::pairings::StateId]| {
        states.iter().map(|state| state_letter(*state)).collect::<Vec<_>>().join(" ")
    };
    let rows = arrangement.states.chunks(usize::from(arrangement.motif.columns()).max(1));
    rows.map(row).collect::<Vec<_>>().join(" / ")
}

fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_counts_are_told_by_their_power_of_ten() {
        let rows = [
            (118_u64, "118"),
            (9_999_999, "9,999,999"),
            (10_000_000, "1.0 × 10⁷"),
            (1_099_528_013_448, "1.1 × 10¹²"),
            (99_960_000, "1.0 × 10⁸"),
            (25_049_999, "2.5 × 10⁷"),
        ];
        for (count, text) in rows {
            assert_eq!(about(&BigUint::from(count)), text, "{count}");
        }
    }
}
