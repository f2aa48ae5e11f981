//! Shares dealt to the fabrics of a value, as evenly as what they give allows.

/// Deals `shares`, one after the other, each to the fabric that has given the smallest part of what it can: the fabric
/// of each share, by its place in `capacities`. None if there are not as many.
pub(super) fn deal(capacities: &[u64], shares: u64) -> Option<Vec<usize>> {
    let mut given = vec![0_u64; capacities.len()];
    let mut dealt = Vec::new();
    for _ in 0..shares {
        let open = (0..capacities.len()).filter(|i| given[*i] < capacities[*i]);
        // given/capacity after this share, compared by cross products.
        let part = |i: usize| (u128::from(given[i]) + 1, u128::from(capacities[i]));
        let next = open.min_by(|a, b| {
            let ((x, of_x), (y, of_y)) = (part(*a), part(*b));
            (x * of_y).cmp(&(y * of_x))
        })?;
        given[next] += 1;
        dealt.push(next);
    }
    Some(dealt)
}

/// How many shares each fabric gives in `dealt`.
pub(super) fn counts(dealt: &[usize], fabrics: usize) -> Vec<u64> {
    let mut counts = vec![0; fabrics];
    for fabric in dealt {
        counts[*fabric] += 1;
    }
    counts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_fabrics_take_turns() {
        assert_eq!(deal(&[2, 2, 2], 5), Some(vec![0, 1, 2, 0, 1]));
    }

    #[test]
    fn each_gives_in_proportion_and_never_more_than_it_has() {
        let capacities = [6, 3, 0, 1];
        for shares in 0..=10 {
            let dealt = deal(&capacities, shares).unwrap();
            let counts = counts(&dealt, 4);
            assert_eq!(counts.iter().sum::<u64>(), shares);
            assert!(counts.iter().zip(&capacities).all(|(given, most)| given <= most), "{counts:?}");
        }
        assert_eq!(counts(&deal(&capacities, 6).unwrap(), 4), [4, 2, 0, 0]);
        assert_eq!(deal(&capacities, 11), None);
    }
}
