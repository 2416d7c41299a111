//! Teeth: bending at the foot, one tooth carrying all at its tip.

use super::Formula;

/// Bending of a tooth.
pub const BENDING: Formula = Formula {
    check: "tooth bending, Lewis",
    text: "sigma = Ft / (b m Y), load at the tip, one tooth carries all",
    source: "W. Lewis 1892; Y: Machinery's Handbook, 20 deg full depth (from memory)",
};

/// Pressure angle for which the table holds, rad; teeth within half a degree of it count.
const ANGLE: f64 = std::f64::consts::PI / 9.0;
const ANGLE_OFF: f64 = std::f64::consts::PI / 360.0;

/// Teeth in the full circle and Lewis's form factor Y for a load at the tip, 20° full depth
/// (*Machinery's Handbook*, Lewis factors; from memory. Read again off two books: 20 and 60 teeth 0.320 and
/// 0.421, P. Wentzell, *Machine Design*, example 12.3; 30 teeth 0.358, R. Jindal, *Machine Design*, example
/// 25-3).
const TABLE: [(f64, f64); 28] = [
    (10.0, 0.201),
    (11.0, 0.226),
    (12.0, 0.245),
    (13.0, 0.264),
    (14.0, 0.276),
    (15.0, 0.289),
    (16.0, 0.295),
    (17.0, 0.302),
    (18.0, 0.308),
    (19.0, 0.314),
    (20.0, 0.320),
    (22.0, 0.330),
    (24.0, 0.337),
    (26.0, 0.344),
    (28.0, 0.352),
    (30.0, 0.358),
    (34.0, 0.370),
    (38.0, 0.383),
    (45.0, 0.399),
    (50.0, 0.408),
    (60.0, 0.421),
    (75.0, 0.433),
    (90.0, 0.442),
    (100.0, 0.446),
    (150.0, 0.458),
    (200.0, 0.463),
    (300.0, 0.471),
    (f64::INFINITY, RACK),
];

/// Y of a rack.
const RACK: f64 = 0.484;

/// Lewis's form factor Y of outside teeth of full depth, by linear interpolation; `None` for a rack. `None`
/// for fewer than 10 teeth, and for another pressure angle than 20°.
#[must_use]
pub fn lewis(teeth: Option<f64>, pressure: f64) -> Option<f64> {
    if !((pressure - ANGLE).abs() <= ANGLE_OFF) {
        return None;
    }
    let Some(teeth) = teeth else {
        return Some(RACK);
    };
    let above = TABLE.iter().position(|&(z, _)| z >= teeth)?;
    let (high, y) = TABLE[above];
    if high == teeth {
        return Some(y);
    }
    let (low, below) = TABLE[above.checked_sub(1)?];
    // Towards the rack the curvature of the circle counts, which is 1/z.
    let share = (1.0 / low - 1.0 / teeth) / (1.0 / low - 1.0 / high);
    Some(below + share * (y - below))
}

/// Bending stress (MPa) at the foot of a tooth: σ = F/(b m Y), F (N) along the pitch circle, b the face and m
/// the module (mm).
#[must_use]
pub fn bending(force: f64, face: f64, module: f64, form: f64) -> f64 {
    force / (face * module * form)
}

#[cfg(test)]
mod tests {
    use super::{ANGLE, TABLE, bending, lewis};
    use approx::assert_relative_eq;

    /// P. Wentzell, *Machine Design*, example 12.3, p. 258: face 1 in, diametral pitch 8; a pinion of 20
    /// teeth at 47.5 ksi carries 1900 lb, its mate of 60 teeth at 44 ksi (which the printed force asks
    /// for) 2315.5 lb. R. Jindal, *Machine Design*, example 25-3, p. 670: module 5, face 60, 30 teeth at
    /// 150 MPa carry 16 110 N.
    #[test]
    fn forces_that_teeth_carry_are_as_published() {
        let y = |teeth: f64| lewis(Some(teeth), ANGLE).expect("in the table");
        let pound = 4.448_221_615_260_5;
        let ksi = 6.894_757_293_168;
        for (teeth, strength, force) in [(20.0, 47.5, 1900.0), (60.0, 44.0, 2315.5)] {
            let stress = bending(force * pound, 25.4, 25.4 / 8.0, y(teeth));
            assert_relative_eq!(stress, strength * ksi, max_relative = 1e-4);
        }
        assert_relative_eq!(
            bending(16_110.0, 60.0, 5.0, y(30.0)),
            150.0,
            max_relative = 1e-9
        );
    }

    #[test]
    fn between_the_rows_it_grows_from_one_to_the_next() {
        assert!(TABLE.windows(2).all(|w| w[0].0 < w[1].0 && w[0].1 < w[1].1));
        for (teeth, low, high) in [(21.0, 0.320, 0.330), (1000.0, 0.471, 0.484)] {
            let y = lewis(Some(teeth), ANGLE).expect("in the table");
            assert!(low < y && y < high, "{teeth}: {y}");
        }
        // By hand, even in 1/z: (1/20 - 1/21) / (1/20 - 1/22) = 11/21; (1/300 - 1/1000) / (1/300) = 7/10.
        let at = |teeth: f64| lewis(Some(teeth), ANGLE).expect("in the table");
        assert_relative_eq!(at(21.0), 0.320 + 11.0 / 21.0 * 0.010, max_relative = 1e-12);
        assert_relative_eq!(at(1000.0), 0.471 + 0.7 * 0.013, max_relative = 1e-12);
        assert_eq!(lewis(Some(9.0), ANGLE), None);
        assert_eq!(lewis(Some(20.0), 0.253), None);
        assert_eq!(lewis(None, ANGLE), Some(0.484));
    }
}
