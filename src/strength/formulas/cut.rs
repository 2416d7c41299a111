//! The section at a cut through a plate: strips of material along one line, taken as a straight beam or as
//! one bent round a centre.
//!
//! Places are measured along the cut. In a bent beam they are radii, from the centre of the hollow edge.

use super::Formula;

/// A straight beam, at the edges and at the middle of the cut.
pub const CUT: Formula = Formula {
    check: "bending at a cut",
    text: "sigma = |N / A + M c / I| at both edges; sqrt((N / A)^2 + 3 (1.5 V / A)^2) at the centroid; A, I net of holes",
    source: "F. P. Beer, E. R. Johnston, J. T. DeWolf, Mechanics of Materials, ch. 4, 6 and 7",
};

/// A beam bent round a hollow edge.
pub const CURVED_CUT: Formula = Formula {
    check: "bending at a hollow edge",
    text: "sigma(r) = N / A + M (A - r Am) / (A r (R Am - A)), Am = integral of dA / r, at both edges; A, R, Am net of holes",
    source: "A. P. Boresi, R. J. Schmidt, Advanced Mechanics of Materials, 6th ed., eq. 9.11 (Winkler, Bach)",
};

/// Material along the cut, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strip {
    /// Where it begins, along the cut.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// How thick it is, all plates together.
    pub thickness: f64,
}

/// What a section carries: N, tension positive; N, along the cut; N mm about its centroid, positive where it
/// pulls at the near edge (that of the least place, the hollow one of a bent beam).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Carried {
    /// Axial force, N.
    pub axial: f64,
    /// Transverse force, N.
    pub shear: f64,
    /// Bending moment, N mm.
    pub bending: f64,
}

/// A section, from its strips.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutSection {
    /// The two edges, mm.
    pub edges: [f64; 2],
    /// Area, mm².
    pub area: f64,
    /// Place of the centroid, mm; in a bent beam R.
    pub centroid: f64,
    /// Second moment of area about the centroid, mm⁴.
    pub second_moment: f64,
    /// Integral of dA / r and R Am − A of a bent beam, mm and mm².
    bent: Option<[f64; 2]>,
}

impl CutSection {
    /// The section of strips in rising order; `None` where there is no material. `bent`: places are radii.
    #[must_use]
    pub fn of(strips: &[Strip], bent: bool) -> Option<Self> {
        let (first, last) = (strips.first()?, strips.last()?);
        let area_of = |s: &Strip| (s.to - s.from) * s.thickness;
        let middle = |s: &Strip| 0.5 * (s.from + s.to);
        let area: f64 = strips.iter().map(area_of).sum();
        if area.is_nan() || area <= 0.0 || (bent && first.from <= 0.0) {
            return None;
        }
        let centroid = strips.iter().map(|s| area_of(s) * middle(s)).sum::<f64>() / area;
        let second = |s: &Strip| {
            let off = middle(s) - centroid;
            area_of(s) * ((s.to - s.from).powi(2) / 12.0 + off * off)
        };
        Some(Self {
            edges: [first.from, last.to],
            area,
            centroid,
            second_moment: strips.iter().map(second).sum(),
            bent: bent.then(|| bent_sums(strips, centroid)),
        })
    }

    /// Stress at a place, MPa, tension positive, as in a straight beam.
    #[must_use]
    pub fn straight(&self, carried: Carried, at: f64) -> f64 {
        carried.axial / self.area + carried.bending * (self.centroid - at) / self.second_moment
    }

    /// Stress at a radius, MPa, tension positive, of a bent beam; that of a straight one where it is none.
    #[must_use]
    pub fn stress(&self, carried: Carried, at: f64) -> f64 {
        let Some([over_r, q]) = self.bent else {
            return self.straight(carried, at);
        };
        // A - r Am = (R - r) Am - (R Am - A): no difference of nearly equal numbers.
        let lever = (self.centroid - at) * over_r - q;
        carried.axial / self.area + carried.bending * lever / (self.area * at * q)
    }

    /// Greatest stress, MPa: at the edges, and with shear at the centroid (von Mises).
    #[must_use]
    pub fn worst(&self, carried: Carried) -> f64 {
        let [near, far] = self.edges.map(|edge| self.stress(carried, edge).abs());
        let shear = 1.5 * carried.shear / self.area;
        let pull = carried.axial / self.area;
        let middle = (pull * pull + 3.0 * shear * shear).sqrt();
        // `max` would hide what is no number.
        [far, middle].into_iter().fold(near, |worst, other| {
            if other > worst || other.is_nan() {
                other
            } else {
                worst
            }
        })
    }

    /// What a length of 1 mm of the centre line gives under what it carries, times Young's modulus, MPa N/N:
    /// twice its strain energy, of the axial force, and of the moment (in a bent beam with the part that both
    /// share). Shear is left out. Source: A. P. Boresi, R. J. Schmidt, *Advanced Mechanics of Materials*, 6th ed.,
    /// eq. 9.31.
    #[must_use]
    pub fn energies(&self, carried: Carried) -> [f64; 2] {
        let Carried { axial, bending, .. } = carried;
        let by_axial = axial * axial / self.area;
        let Some([over_r, q]) = self.bent else {
            return [by_axial, bending * bending / self.second_moment];
        };
        let turned = bending * bending * over_r / (q * self.centroid);
        let shared = 2.0 * bending * axial / self.centroid;
        [by_axial, (turned - shared) / self.area]
    }

    /// Integral of dA / r of a bent beam, mm.
    #[must_use]
    pub fn over_radius(&self) -> Option<f64> {
        self.bent.map(|[over_r, _]| over_r)
    }

    /// Share by which bending at the hollow edge is greater than in a straight beam of the same section; 1
    /// where it is straight.
    #[must_use]
    pub fn hollow_share(&self) -> f64 {
        let bending = Carried {
            bending: 1.0,
            ..Carried::default()
        };
        self.stress(bending, self.edges[0]) / self.straight(bending, self.edges[0])
    }
}

/// Am and R Am − A. Of one strip of half width w at a mean radius c, Am is 2 t artanh(w / c), which nears
/// 2 t w / c as c grows: the small difference is summed by itself, so that its digits stay. What strips
/// off the centroid add comes from 1 / c − 1 / R, as their first moments about R add up to nothing.
fn bent_sums(strips: &[Strip], centroid: f64) -> [f64; 2] {
    let (mut over_r, mut q) = (0.0, 0.0);
    for strip in strips {
        let (c, w) = (0.5 * (strip.from + strip.to), 0.5 * (strip.to - strip.from));
        let beyond = artanh_less_x(w / c);
        over_r += 2.0 * strip.thickness * (w / c + beyond);
        let off = centroid - c;
        q += 2.0 * strip.thickness * (w * off * off / (c * centroid) + centroid * beyond);
    }
    [over_r, q]
}

/// artanh(x) − x, for x from 0 to below 1.
fn artanh_less_x(x: f64) -> f64 {
    /// Below this the series is used: its terms after the last one add less than 1e-17 of the first.
    const SMALL: f64 = 0.1;
    if x > SMALL {
        return x.atanh() - x;
    }
    let square = x * x;
    let terms = (1..=8).rev();
    let sum = terms.fold(0.0, |sum, k| square * sum + 1.0 / f64::from(2 * k + 1));
    x * square * sum
}

#[cfg(test)]
mod tests;
