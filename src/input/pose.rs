//! Rigid placing of a part in the plane.

use crate::geometry::Frame;

/// `[x, y, angle]` of a part's origin and x axis, mm and rad.
pub(super) type Pose = [f64; 3];

/// A point in the part's axes and where it stands.
pub(super) type Pair = ([f64; 2], [f64; 2]);

/// Where a point of the part stands.
pub(super) fn out_of_part(pose: Pose, own: [f64; 2]) -> [f64; 2] {
    Frame::at(pose).place(own.into()).xy()
}

/// The coordinates, in the part's axes, of a place.
pub(super) fn into_part(pose: Pose, place: [f64; 2]) -> [f64; 2] {
    Frame::at(pose).own_place(place.into()).xy()
}

/// The pose at a given angle that brings the points nearest to their places; `None` without any.
pub(super) fn at_angle(pairs: &[Pair], angle: f64) -> Option<Pose> {
    let (own, place) = centres(pairs)?;
    let moved = out_of_part([0.0, 0.0, angle], own);
    Some([place[0] - moved[0], place[1] - moved[1], angle])
}

/// The least-squares pose of two points or more (the planar case of Horn, *J. Opt. Soc. Am. A* 4,
/// 629, 1987). `None` where the points leave the angle open.
pub(super) fn fit(pairs: &[Pair]) -> Option<Pose> {
    let (own, place) = centres(pairs)?;
    let (mut dot, mut cross, mut scale) = (0.0, 0.0, 0.0);
    for (a, b) in pairs {
        let (ax, ay) = (a[0] - own[0], a[1] - own[1]);
        let (bx, by) = (b[0] - place[0], b[1] - place[1]);
        dot += ax * bx + ay * by;
        cross += ax * by - ay * bx;
        scale += ax * ax + ay * ay;
    }
    if cross.hypot(dot) <= 1e-12 * scale || scale == 0.0 {
        return None;
    }
    at_angle(pairs, cross.atan2(dot))
}

/// Greatest width or height of a set of points; what is not finite does not count.
pub(super) fn extent(points: impl Iterator<Item = [f64; 2]>) -> f64 {
    let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
    for point in points.filter(|p| p.iter().all(|v| v.is_finite())) {
        for k in 0..2 {
            low[k] = low[k].min(point[k]);
            high[k] = high[k].max(point[k]);
        }
    }
    (high[0] - low[0]).max(high[1] - low[1]).max(0.0)
}

fn centres(pairs: &[Pair]) -> Option<([f64; 2], [f64; 2])> {
    if pairs.is_empty() {
        return None;
    }
    let n = pairs.len() as f64;
    let sum = |pick: fn(&Pair) -> [f64; 2]| {
        let total = pairs
            .iter()
            .map(pick)
            .fold([0.0; 2], |s, p| [s[0] + p[0], s[1] + p[1]]);
        [total[0] / n, total[1] / n]
    };
    Some((sum(|pair| pair.0), sum(|pair| pair.1)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq as near;

    #[test]
    fn fit_finds_an_exact_pose() {
        let pose = [3.0, -4.0, 2.5];
        let own = [[0.0, 0.0], [15.0, 0.0], [4.0, -9.0]];
        let pairs: Vec<Pair> = own.iter().map(|&p| (p, out_of_part(pose, p))).collect();
        let found = fit(&pairs).expect("a pose");
        for (a, b) in found.iter().zip(pose) {
            near!(*a, b, epsilon = 1e-12);
        }
        for (p, place) in pairs {
            let back = into_part(pose, place);
            near!(back[0], p[0], epsilon = 1e-12);
            near!(back[1], p[1], epsilon = 1e-12);
        }
    }

    #[test]
    fn a_rough_link_is_laid_along_its_pins() {
        let pose = fit(&[([0.0, 0.0], [1.0, 1.0]), ([10.0, 0.0], [1.0, 21.0])]).expect("a pose");
        near!(pose[2], std::f64::consts::FRAC_PI_2);
        near!(pose[1], 6.0);
    }

    #[test]
    fn one_point_leaves_the_angle_open() {
        assert_eq!(fit(&[([1.0, 2.0], [5.0, 5.0])]), None);
        assert_eq!(
            at_angle(&[([1.0, 2.0], [5.0, 5.0])], 0.0),
            Some([4.0, 3.0, 0.0])
        );
        assert_eq!(at_angle(&[], 0.0), None);
    }
}
