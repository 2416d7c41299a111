//! How a picture lies in the plane: its pixels are counted from the upper left corner, y down.

/// One place in pixels and in the plane, and the size of a pixel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pixels {
    /// A place of the picture, pixels, y down.
    pub pixel: [f64; 2],
    /// The same place in the plane, mm, y up.
    pub place: [f64; 2],
    /// Millimetres in a pixel.
    pub mm: f64,
}

impl Pixels {
    /// Where a pixel lies in the plane, mm.
    #[must_use]
    pub fn place_of(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [
            self.place[0] + (x - self.pixel[0]) * self.mm,
            self.place[1] - (y - self.pixel[1]) * self.mm,
        ]
    }

    /// Which pixel a place in the plane, mm, falls on.
    #[must_use]
    pub fn pixel_of(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [
            self.pixel[0] + (x - self.place[0]) / self.mm,
            self.pixel[1] - (y - self.place[1]) / self.mm,
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::Pixels;

    #[test]
    fn y_is_turned_over_and_the_size_of_a_pixel_counts() {
        let pixels = Pixels {
            pixel: [100.0, 200.0],
            place: [5.0, -1.0],
            mm: 0.25,
        };
        assert_eq!(pixels.place_of([100.0, 200.0]), [5.0, -1.0]);
        assert_eq!(pixels.place_of([104.0, 192.0]), [6.0, 1.0]);
        assert_eq!(pixels.pixel_of([6.0, 1.0]), [104.0, 192.0]);
    }
}
