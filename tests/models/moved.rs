//! The same tool, described otherwise: other axes, other size, mirrored, other order of parts.

use jawforce::model::{
    Adjusts, Border, CamFace, Follower, HandLine, Made, PartId, Place, PointRef, Push, Roller,
    SlotLine, SpringEnds, SpringSet, Target, Tool,
};

fn turn(angle: f64, [x, y]: [f64; 2]) -> [f64; 2] {
    let (s, c) = angle.sin_cos();
    [c * x - s * y, s * x + c * y]
}

/// Changes every place that is stated in the axes of part `p`.
fn places(tool: &mut Tool, p: PartId, change: &dyn Fn([f64; 2]) -> [f64; 2]) {
    let place = |place: &mut Place| {
        if let Place::At(at) = place {
            *at = change(*at);
        }
    };
    let line = |line: &mut HandLine| {
        if line.part == p {
            line.points.iter_mut().for_each(place);
        }
    };
    for point in &mut tool.parts[p].points {
        point.at = change(point.at);
    }
    line(&mut tool.hand.handle);
    if let Some(other) = &mut tool.hand.against {
        line(other);
    }
    for slot in tool.slots.iter_mut().filter(|s| s.on == p) {
        place(slot.line.place_mut());
    }
    for cam in tool.cams.iter_mut().filter(|cam| cam.part == p) {
        match &mut cam.face {
            CamFace::Disc { centre, .. } => place(centre),
            CamFace::Curve(points) => points.iter_mut().for_each(|at| *at = change(*at)),
        }
    }
    if let Some(ratchet) = tool.ratchet.as_mut().filter(|r| r.pawl.on == p) {
        ratchet.pawl.pin = change(ratchet.pawl.pin);
    }
}

/// Part `p` dimensioned in axes turned by −`angle` and then shifted, so that its own coordinates
/// turn by `angle`; of the fixed part, so that the whole tool turns and shifts on the page.
pub fn redrawn(tool: &Tool, p: PartId, angle: f64, shift: [f64; 2]) -> Tool {
    let mut tool = tool.clone();
    places(&mut tool, p, &|at| {
        let [x, y] = turn(angle, at);
        [x + shift[0], y + shift[1]]
    });
    for slot in &mut tool.slots {
        if slot.on == p {
            if let SlotLine::Straight { angle: own, .. } = &mut slot.line {
                *own += angle;
            }
            slot.keyed = slot.keyed.map(|key| key + angle);
        }
        if slot.rider.part == p {
            slot.keyed = slot.keyed.map(|key| key - angle);
        }
    }
    for cam in tool.cams.iter_mut().filter(|cam| cam.pushes.part == p) {
        if let Follower::Flat { angle: own, .. } = &mut cam.follower {
            *own += angle;
        }
    }
    for jaw in tool.jaws.iter_mut().filter(|j| j.against.part == p) {
        jaw.axis = jaw.axis.map(|axis| axis + angle);
    }
    for stop in tool.stops.iter_mut().filter(|s| s.against.part == p) {
        stop.axis = stop.axis.map(|axis| axis + angle);
    }
    for spring in &mut tool.springs {
        if let (SpringEnds::Pin { first, second }, SpringSet::Free(free)) =
            (spring.ends, &mut spring.set)
        {
            // The part's own angle falls by `angle`.
            if second == p {
                *free -= angle;
            }
            if first == p {
                *free += angle;
            }
        }
    }
    let against = tool
        .hand
        .against
        .as_ref()
        .map_or(tool.fixed, |line| line.part);
    // The handle's angle is measured from the `against` part's axes, or from the fixed part's.
    if against == p {
        for target in [&mut tool.stroke.open, &mut tool.stroke.shut] {
            if let Target::Handle(handle) = target {
                *handle += angle;
            }
        }
    }
    if p == tool.fixed {
        for part in PartId::ids(tool.parts.len()).filter(|&q| q != p) {
            let sketch = &mut tool.parts[part].sketch;
            let [x, y] = turn(angle, [sketch[0], sketch[1]]);
            *sketch = [x + shift[0], y + shift[1], sketch[2] + angle];
        }
        if let Push::Fixed(push) = &mut tool.hand.push {
            *push += angle;
        }
    } else {
        let sketch = &mut tool.parts[p].sketch;
        let own = sketch[2] - angle;
        let [x, y] = turn(own, shift);
        *sketch = [sketch[0] - x, sketch[1] - y, own];
    }
    tool
}

/// All lengths times `factor`; forces as they are.
pub fn scaled(tool: &Tool, factor: f64) -> Tool {
    let mut tool = tool.clone();
    for p in PartId::ids(tool.parts.len()) {
        places(&mut tool, p, &|at| at.map(|v| v * factor));
        let sketch = &mut tool.parts[p].sketch;
        *sketch = [sketch[0] * factor, sketch[1] * factor, sketch[2]];
    }
    for grip in &mut tool.hand.grips {
        *grip *= factor;
    }
    tool.hand.thickness *= factor;
    for jaw in &mut tool.jaws {
        jaw.closed *= factor;
    }
    for stop in &mut tool.stops {
        stop.closed *= factor;
    }
    let mut ends = vec![&mut tool.stroke.open, &mut tool.stroke.shut];
    if let Some(ratchet) = &mut tool.ratchet {
        ratchet.radius *= factor;
        ratchet.pawl.length *= factor;
        ratchet.pawl.spring *= factor;
        ratchet.height = ratchet.height.map(|h| h * factor);
        ends.extend([&mut ratchet.engages, &mut ratchet.frees]);
    }
    for target in ends {
        match target {
            Target::Gap(gap, _) => *gap *= factor,
            Target::Span(span, grip) => {
                *span *= factor;
                *grip = grip.map(|g| g * factor);
            }
            Target::Handle(_) | Target::Stop(_) => {}
        }
    }
    if let Some(work) = &mut tool.jaws[0].work {
        work.need.iter_mut().for_each(|row| row[0] *= factor);
    }
    for data in &mut tool.joint_data {
        data.diameter = data.diameter.map(|d| d * factor);
    }
    let larger = |roller: Roller| Roller {
        diameter: roller.diameter * factor,
        pin: roller.pin * factor,
        width: roller.width.map(|w| w * factor),
    };
    for slot in &mut tool.slots {
        slot.width = slot.width.map(|w| w * factor);
        if let SlotLine::Arc { radius, .. } = &mut slot.line {
            *radius *= factor;
        }
        slot.roller = slot.roller.map(larger);
    }
    for cam in &mut tool.cams {
        if let CamFace::Disc { radius, .. } = &mut cam.face {
            *radius *= factor;
        }
        if let Follower::Roller(roller) = &mut cam.follower {
            *roller = larger(*roller);
        }
    }
    for cam in &mut tool.cams {
        cam.width = cam.width.map(|width| width * factor);
    }
    for gears in &mut tool.gears {
        gears.backlash = gears.backlash.map(|play| play * factor);
        gears.face = gears.face.map(|face| face * factor);
    }
    for spring in &mut tool.springs {
        let rate = spring.rate();
        match (spring.ends, &mut spring.set) {
            (SpringEnds::Points(..), set) => {
                spring.made = Made::Rate(rate / factor);
                if let SpringSet::Free(free) = set {
                    *free *= factor;
                }
            }
            (SpringEnds::Pin { .. }, set) => {
                spring.made = Made::Rate(rate * factor);
                if let SpringSet::Preload(moment) = set {
                    *moment *= factor;
                }
            }
        }
    }
    tool
}

/// Turned over: y becomes −y in the axes of every part.
pub fn mirrored(tool: &Tool) -> Tool {
    let mut tool = tool.clone();
    for p in PartId::ids(tool.parts.len()) {
        places(&mut tool, p, &|[x, y]| [x, -y]);
        let [x, y, angle] = tool.parts[p].sketch;
        tool.parts[p].sketch = [x, -y, -angle];
    }
    for slot in &mut tool.slots {
        if let SlotLine::Straight { angle, .. } = &mut slot.line {
            *angle = -*angle;
        }
        slot.keyed = slot.keyed.map(|key| -key);
    }
    for cam in &mut tool.cams {
        // What was to the left is to the right: the order turns round.
        if let CamFace::Curve(points) = &mut cam.face {
            points.reverse();
        }
        if let Follower::Flat { angle, side } = &mut cam.follower {
            *angle = -*angle;
            *side = -*side;
        }
    }
    for jaw in &mut tool.jaws {
        jaw.axis = jaw.axis.map(|axis| -axis);
    }
    for stop in &mut tool.stops {
        stop.axis = stop.axis.map(|axis| -axis);
    }
    if let Push::Fixed(push) = &mut tool.hand.push {
        *push = -*push;
    }
    for target in [&mut tool.stroke.open, &mut tool.stroke.shut] {
        if let Target::Handle(handle) = target {
            *handle = -*handle;
        }
    }
    for spring in &mut tool.springs {
        if let (SpringEnds::Pin { .. }, SpringSet::Free(v) | SpringSet::Preload(v)) =
            (spring.ends, &mut spring.set)
        {
            *v = -*v;
        }
    }
    tool
}

/// The parts in another order: part `k` becomes part `to[k]`. Carriers follow the new order; so
/// a pin of three parts must keep its carrier (asserted), or its joints would be other joints.
pub fn reordered(tool: &Tool, to: &[usize]) -> Tool {
    let mut new = tool.clone();
    let order = to;
    let to = |part: PartId| PartId::new(order[part.index()]);
    for (k, part) in PartId::each(&tool.parts) {
        new.parts[to(k)] = part.clone();
    }
    new.fixed = to(tool.fixed);
    let at = |r: PointRef| PointRef {
        part: to(r.part),
        point: r.point,
    };
    for joint in &mut new.joints {
        joint.carrier = to(joint.carrier);
        joint.part = to(joint.part);
        if joint.carrier > joint.part {
            let shared = tool.joints.iter().filter(|j| j.pin == joint.pin).count();
            assert!(shared == 1, "pin {} of three parts", joint.pin);
            std::mem::swap(&mut joint.carrier, &mut joint.part);
            std::mem::swap(&mut joint.carrier_point, &mut joint.part_point);
        }
    }
    for slot in &mut new.slots {
        slot.rider = at(slot.rider);
        slot.on = to(slot.on);
    }
    for cam in &mut new.cams {
        cam.part = to(cam.part);
        cam.pushes = at(cam.pushes);
    }
    for gears in &mut new.gears {
        gears.on = to(gears.on);
        gears.parts = gears.parts.map(to);
    }
    new.hand.handle.part = to(new.hand.handle.part);
    if let Some(line) = &mut new.hand.against {
        line.part = to(line.part);
    }
    for jaw in &mut new.jaws {
        jaw.on = at(jaw.on);
        jaw.against = at(jaw.against);
    }
    for stop in &mut new.stops {
        stop.on = at(stop.on);
        stop.against = at(stop.against);
    }
    for adjuster in &mut new.adjusters {
        if let Adjusts::Eccentric { pin, .. } = &mut adjuster.moves {
            *pin = at(*pin);
        }
    }
    if let Some(ratchet) = &mut new.ratchet {
        ratchet.teeth_on = to(ratchet.teeth_on);
        ratchet.pawl.on = to(ratchet.pawl.on);
    }
    for outline in &mut new.outlines {
        outline.part = to(outline.part);
        if let Border::Mirror { of, .. } = &mut outline.border {
            *of = to(*of);
        }
    }
    for spring in &mut new.springs {
        match &mut spring.ends {
            SpringEnds::Points(a, b) => {
                *a = at(*a);
                *b = at(*b);
            }
            SpringEnds::Pin { first, second } => {
                *first = to(*first);
                *second = to(*second);
            }
        }
    }
    for section in &mut new.sections {
        section.part = to(section.part);
    }
    new
}
