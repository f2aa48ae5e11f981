//! Figures side by side on pages: rows of them, the highest first, each in the first row with room.

/// Room between figures, in inches.
pub(super) const BETWEEN_IN: f64 = 0.22;

/// Where a cell came to lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Packed {
    /// Which of the cells.
    pub(super) cell: usize,
    /// Page, from 0.
    pub(super) page: usize,
    /// Its upper left corner, in inches.
    pub(super) at: [f64; 2],
}

/// One row on a page.
struct Row {
    page: usize,
    top: f64,
    height: f64,
    right: f64,
}

/// Pages that are filled row by row.
pub(super) struct Pages {
    room: [f64; 2],
    rows: Vec<Row>,
    /// How far each page is filled from above.
    filled: Vec<f64>,
}

impl Pages {
    /// No page yet, each with this room.
    pub(super) const fn new(room: [f64; 2]) -> Self {
        Self { room, rows: Vec::new(), filled: Vec::new() }
    }

    /// How many pages there are.
    pub(super) const fn count(&self) -> usize {
        self.filled.len()
    }

    /// Puts something in the first row with room for it, in a new row, or on a new page.
    pub(super) fn put(&mut self, size: [f64; 2]) -> (usize, [f64; 2]) {
        for page in 0..self.filled.len() {
            if let Some(at) = self.put_on(page, size) {
                return (page, at);
            }
        }
        self.filled.push(0.0);
        let page = self.filled.len() - 1;
        (page, self.put_on(page, size).unwrap_or_default())
    }

    /// Puts something on this page, if it has room.
    pub(super) fn put_on(&mut self, page: usize, [width, height]: [f64; 2]) -> Option<[f64; 2]> {
        let room = self.room[0];
        let fits = |row: &&mut Row| row.page == page && row.height >= height && row.right + width <= room;
        if let Some(row) = self.rows.iter_mut().find(fits) {
            let at = [row.right, row.top];
            row.right += width + BETWEEN_IN;
            return Some(at);
        }
        let filled = self.filled.get_mut(page)?;
        let top = *filled;
        // What is too large for any page stands alone on one.
        if top > 0.0 && top + height > self.room[1] {
            return None;
        }
        *filled = top + height + BETWEEN_IN;
        self.rows.push(Row { page, top, height, right: width + BETWEEN_IN });
        Some([0.0, top])
    }
}

/// Puts cells of these sizes on pages.
pub(super) fn pack(sizes: &[[f64; 2]], pages: &mut Pages) -> Vec<Packed> {
    let mut order: Vec<usize> = (0..sizes.len()).collect();
    order.sort_by(|&a, &b| sizes[b][1].total_cmp(&sizes[a][1]).then(a.cmp(&b)));
    let put = |cell: usize| {
        let (page, at) = pages.put(sizes[cell]);
        Packed { cell, page, at }
    };
    order.into_iter().map(put).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_keep_apart_and_on_their_pages() {
        let sizes: Vec<[f64; 2]> =
            (1..40_i32).map(|k| [f64::from(k * 37 % 11) * 0.6 + 0.3, f64::from(k * 53 % 13) * 0.7 + 0.2]).collect();
        let room = [7.0, 9.5];
        let mut pages = Pages::new(room);
        let packed = pack(&sizes, &mut pages);
        assert_eq!(packed.len(), sizes.len());
        let boxed = |p: &Packed| (p.page, p.at, [p.at[0] + sizes[p.cell][0], p.at[1] + sizes[p.cell][1]]);
        for (i, one) in packed.iter().enumerate() {
            let (page, low, high) = boxed(one);
            assert!(page < pages.count() && high[0] <= room[0] && high[1] <= room[1] && low.iter().all(|v| *v >= 0.0));
            for other in &packed[..i] {
                let (at, other_low, other_high) = boxed(other);
                let apart = (0..2).any(|k| high[k] < other_low[k] || other_high[k] < low[k]);
                assert!(at != page || apart, "{one:?} lies over {other:?}");
            }
        }
    }
}
