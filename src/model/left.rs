//! What of the work is left to do where a stroke ends.

use super::load::Work;

impl Work {
    /// The most that is left to do where a stroke that is to go on to a gap `to` ends at `from` (mm), N; 0 where all is
    /// done. Beyond the last row nothing is known of the work. `near`: gaps that are the same, mm.
    ///
    /// A row beyond `to` says what is asked for on the way there too, as long as the jaws are apart.
    #[must_use]
    pub fn left(&self, from: f64, to: f64, near: f64) -> f64 {
        let rows = (self.need.iter()).filter(|row| row[0] < from - near && row[0] >= to - near);
        let rows = rows.map(|row| row[1]);
        let pieces = self.need.windows(2).filter_map(|piece| {
            let [a, b] = [piece.first()?, piece.get(1)?];
            let ends = [a[0].min(from), b[0].max(to).max(0.0)];
            let force = |gap: f64| a[1] + (b[1] - a[1]) * (a[0] - gap) / (a[0] - b[0]);
            (ends[0] > ends[1] + near).then(|| force(ends[0]).max(force(ends[1])))
        });
        rows.chain(pieces).fold(0.0, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::Work;

    /// By hand: where the next row stands beyond shut, the line to it asks for force on the way; a curve that comes down to
    /// nothing is not done before; a jump down at the place itself leaves nothing.
    #[test]
    fn what_is_left_is_read_between_rows_too() {
        let left = |need: &[[f64; 2]], from: f64, to: f64| Work::of_rows(need).left(from, to, 1e-9);
        let past = [[5.0, 0.0], [-1.0, 600.0]];
        assert!((left(&past, 0.3, 0.0) - 500.0).abs() < 1e-9);
        assert_eq!(left(&past, 0.0, 0.0), 0.0);
        // Jaws that touch have nothing between them.
        assert_eq!(left(&past, 0.0, -0.5), 0.0);
        let down = [[5.0, 100.0], [1.0, 0.0]];
        assert!((left(&down, 3.0, 0.0) - 50.0).abs() < 1e-9);
        assert_eq!(left(&down, 1.0, 0.0), 0.0);
        let jump = [[5.0, 0.0], [2.0, 100.0], [2.0, 0.0], [0.0, 0.0]];
        assert_eq!(left(&jump, 2.0, 0.0), 0.0);
        assert!(left(&jump, 2.1, 0.0) > 96.0);
        let rows = [[5.0, 0.0], [0.0, 200.0]];
        assert_eq!(left(&rows, 1.0, 0.0), 200.0);
        assert_eq!(left(&[[5.0, 0.0], [3.0, 200.0]], 2.0, 0.0), 0.0);
    }
}
