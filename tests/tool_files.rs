//! Tool files that are right are read in full.

use std::f64::consts::PI;

use jawforce::input::{ReadTool, apply_overrides, read_tool, render_all};
use jawforce::model::{
    Acts, At, Depth, HandLimit, JawId, JointId, PartId, Place, Push, Shape, Shear, SpringEnds,
    SpringSet, Target, ToleranceClass, Tool, Want, dimension,
};
use jawforce::units::UnitSystem;

const EVERYTHING: &str = include_str!("files/everything.toml");

fn read(text: &str) -> ReadTool {
    read_tool(text, &crate::models::beside)
        .unwrap_or_else(|found| panic!("{}", render_all(&found, "tool.toml", text, false)))
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-9 * b.abs().max(1.0), "{a} is not {b}");
}

#[test]
fn every_key_is_read() {
    let ReadTool {
        tool,
        advice,
        spans,
        pixels,
    } = read(EVERYTHING);
    assert_eq!(pixels, None, "its sketch is in millimetres");
    assert!(advice.is_empty(), "{advice:?}");
    assert_eq!(tool.validate(), Ok(()));
    let names: Vec<&str> = tool.parts.iter().map(|part| part.name.as_str()).collect();
    assert_eq!(
        names,
        [
            "frame", "lever", "strut", "ram", "rocker", "plunger", "cog", "shackle", "tappet",
            "anvil", "arm"
        ]
    );
    assert_eq!(tool.units, UnitSystem::MmN);
    assert_eq!(tool.parts[2].shape, Shape::Length);
    assert_eq!(tool.parts[4].shape, Shape::Sketch);
    let labels: Vec<String> = JointId::ids(tool.joints.len())
        .map(|i| tool.joint_label(i))
        .collect();
    assert_eq!(
        labels,
        [
            "heel",
            "post",
            "axle",
            "knee:strut",
            "knee:shackle",
            "wrist:ram",
            "wrist:rocker",
            "hinge",
            "horn"
        ]
    );
    near(tool.parts[0].points[6].at[0], 2.1 * 25.4);

    let slot = &tool.slots[0];
    assert_eq!(
        (slot.keyed, slot.friction, slot.width),
        (Some(0.0), 0.1, Some(12.0))
    );
    assert_eq!(slot.line.place(), Place::Point(5));
    near(slot.line.angle().expect("straight"), PI / 2.0);
    assert_eq!(tool.slots[1].keyed, None);

    assert_eq!(tool.hand.push, Push::Across);
    assert_eq!(tool.hand.grips, [70.0, 100.0, 130.0]);
    assert_eq!(tool.hand.handle.points[2], Place::Point(3));
    assert!(
        tool.hand
            .against
            .as_ref()
            .is_some_and(|line| line.smooth && line.part == PartId::FIRST)
    );
    assert!(matches!(&tool.hand.limit, Some(HandLimit::Table(rows)) if rows[1] == [60.0, 240.0]));
    assert_eq!((tool.hand.force, tool.hand.thickness), (150.0, 12.0));

    near(tool.jaws[0].axis.expect("an axis"), PI / 2.0);
    assert_eq!(tool.jaws[1].axis, None);
    assert_eq!(tool.stroke.open, Target::Gap(9.0, JawId::FIRST));
    assert_eq!(tool.stroke.shut, Target::Span(70.0, Some(100.0)));
    assert_eq!(tool.stroke.steps, 90);
    let work = tool.work().expect("work");
    assert_eq!((work.need[2], work.rigid), ([0.4, 1900.0], Some(2.5)));

    assert_eq!(tool.joint_data.len(), tool.joints.len());
    let data = &tool.joint_data;
    assert_eq!(
        [0, 3, 4, 5].map(|i| data[i].diameter),
        [6.0, 5.0, 5.0, 6.0].map(Some)
    );
    assert_eq!(
        (data[5].shear, data[6].shear),
        (Shear::Single, Shear::Double)
    );
    assert_eq!(data[4].material, Some(1));

    let springs = &tool.springs;
    assert_eq!(springs[0].set, SpringSet::Free(42.0));
    near(springs[1].rate(), 12.0 * 4.448_221_615_260_5 / 25.4);
    assert_eq!(
        (springs[1].acts, springs[1].set),
        (Acts::Pull, SpringSet::Preload(-20.0))
    );
    assert_eq!(
        springs[2].ends,
        SpringEnds::Pin {
            first: PartId::FIRST,
            second: PartId::new(1)
        }
    );
    near(springs[2].rate(), 20.0 * 180.0 / PI);
    assert_eq!(springs[2].set, SpringSet::Free(-25.0 * PI / 180.0));

    near(tool.materials[0].modulus.expect("modulus"), 205_000.0);
    assert!(matches!(&tool.sections[1].width, Depth::Stations(rows) if rows.len() == 3));
    assert_eq!((tool.sections[0].plates, tool.sections[1].plates), (2, 1));
    assert_eq!(tool.demands.len(), 15);
    assert_eq!(tool.demands[0].at, Some(At::Gap(0.4)));
    near(tool.demands[12].bound.max.expect("9 J"), 9000.0);
    assert_eq!(tool.tolerances.class, Some(ToleranceClass::Medium));
    assert_eq!(tool.tolerances.rules.len(), 4);
    near(tool.tunes[1].to, 38.1);
    assert_eq!(tool.aim.as_ref().map(|aim| aim.want), Some(Want::Least));
    for path in [
        "parts.strut",
        "strut.length",
        "jaw.nose",
        "stroke.open",
        "demand.13",
    ] {
        assert!(spans.contains_key(path), "{path}");
    }
}

/// Where a point stands in the rough pose of its part.
fn sketched(tool: &Tool, part: &str, point: &str) -> [f64; 2] {
    let part = &tool.parts[tool.part_index(part).expect(part)];
    let at = part.points[part.point_index(point).expect(point)].at;
    let [x, y, angle] = part.sketch;
    let (sin, cos) = angle.sin_cos();
    [x + cos * at[0] - sin * at[1], y + sin * at[0] + cos * at[1]]
}

fn close_to(at: [f64; 2], goal: [f64; 2], within: f64) {
    let off = (at[0] - goal[0]).hypot(at[1] - goal[1]);
    assert!(off <= within, "{at:?} is {off} from {goal:?}");
}

#[test]
fn poses_follow_the_sketch() {
    let tool = read(EVERYTHING).tool;
    // The sketch is rough by a millimetre or two; the poses must not be worse.
    close_to(sketched(&tool, "lever", "heel"), [0.0, 0.0], 1.0);
    close_to(sketched(&tool, "lever", "knee"), [14.0, -6.0], 1.0);
    close_to(sketched(&tool, "strut", "wrist"), [30.0, -28.0], 1.0);
    close_to(sketched(&tool, "ram", "wrist"), [30.0, -28.0], 1.0);
    // Shapes and marks from the sketch stand exactly where they are sketched.
    close_to(sketched(&tool, "rocker", "horn"), [40.64, -30.0], 1e-9);
    close_to(sketched(&tool, "strut", "middle"), [22.0, -17.0], 1e-9);
    // The keyed slider stands at the slot's through point, upright.
    close_to(sketched(&tool, "plunger", "foot"), [20.0, 0.0], 1e-9);
    assert_eq!(tool.parts[5].sketch[2], 0.0);
}

const FOUR_BAR: &str = r#"
[tool]
units = "mm-N"
[parts.frame]
fixed = true
pins = { a = [0, 0], d = [40, 0] }
marks = { anvil = [60, 10] }
[parts.crank]
pins = { a = [0, 0], b = [0, 20] }
[parts.link]
pins = ["b", "c"]
length = 50
[parts.rocker]
pins = { c = [50, 20], d = [40, 0] }
marks = { tip = [60, 20] }
[hand]
part = "crank"
line = [[0, 0], [-100, 0]]
grips = [90]
[[jaw]]
on = "rocker.tip"
against = "frame.anvil"
[stroke]
open = { gap = 8 }
shut = { gap = 1 }
"#;

#[test]
fn drawn_in_place_needs_no_sketch() {
    let ReadTool { tool, advice, .. } = read(FOUR_BAR);
    assert!(advice.is_empty(), "{advice:?}");
    for part in [0, 1, 3] {
        assert_eq!(tool.parts[part].sketch, [0.0; 3]);
    }
    close_to(sketched(&tool, "link", "b"), [0.0, 20.0], 1e-9);
    close_to(sketched(&tool, "link", "c"), [50.0, 20.0], 1e-9);
    assert_eq!(tool.hand.push, Push::Square);
    assert_eq!((tool.hand.force, tool.stroke.steps), (100.0, 60));
    assert_eq!(tool.jaws[0].name, "jaw");
}

#[test]
fn a_sketch_in_pixels_is_scaled_and_turned_over() {
    let sketch = r#"
[sketch]
a = [200, 500]
b = [200, 460]
c = [300, 460]
scale = { from = [0, 0], to = [0, 100], length = 50 }
origin = "a"
"#;
    let tool = read(&format!("{FOUR_BAR}{sketch}")).tool;
    close_to(sketched(&tool, "crank", "b"), [0.0, 20.0], 1e-9);
    close_to(sketched(&tool, "link", "c"), [50.0, 20.0], 1e-9);
}

#[test]
fn inch_files_are_in_inches() {
    let text = FOUR_BAR.replace("mm-N", "in-lbf") + "[work]\nneed = [[0.1, 5], [0, \"30 N\"]]\n";
    let tool = read(&text).tool;
    near(
        dimension::get(&tool, "link.length").expect("length"),
        50.0 * 25.4,
    );
    near(tool.hand.grips[0], 90.0 * 25.4);
    let need = tool.work().expect("work").need.clone();
    near(need[0][0], 2.54);
    near(need[0][1], 5.0 * 4.448_221_615_260_5);
    near(need[1][1], 30.0);
}

#[test]
fn dimensions_have_addresses() {
    let mut tool = read(FOUR_BAR).tool;
    let all: Vec<String> = dimension::dimensions(&tool)
        .into_iter()
        .map(|d| d.address)
        .collect();
    assert_eq!(all.len(), 6 + 4 + 1 + 6);
    assert!(all.contains(&"link.length".to_owned()) && !all.contains(&"link.b.x".to_owned()));
    for address in &all {
        let before = dimension::get(&tool, address).expect("a value");
        assert!(dimension::set(&mut tool, address, before + 1.0));
        near(
            dimension::get(&tool, address).expect("a value"),
            before + 1.0,
        );
    }
    assert!(!dimension::set(&mut tool, "link.c.x", 1.0));
}

#[test]
fn overrides_set_all_or_nothing() {
    let mut tool = read(FOUR_BAR).tool;
    let set = |pairs: &[(&str, &str)], tool: &mut Tool| {
        let pairs: Vec<(String, String)> = pairs
            .iter()
            .map(|(a, v)| ((*a).to_owned(), (*v).to_owned()))
            .collect();
        apply_overrides(tool, &pairs)
    };
    assert_eq!(
        set(&[("link.length", "2 in"), ("crank.b.y", "21")], &mut tool),
        Ok(())
    );
    near(dimension::get(&tool, "link.length").expect("length"), 50.8);
    near(dimension::get(&tool, "crank.b.y").expect("y"), 21.0);
    let before = tool.clone();
    let bad = [
        ("link.length", "26"),
        ("link.lenght", "26"),
        ("link.length", "3 N"),
        ("link.length", "-3"),
        ("crank.b.y", "nan"),
    ];
    let found = set(&bad, &mut tool).expect_err("four are bad");
    assert_eq!(found.len(), 4);
    assert!(
        found[0].help.contains("did you mean `link.length`?"),
        "{}",
        found[0]
    );
    assert_eq!(tool, before);
    // Good each by itself, but not in this tool.
    let found = set(&[("crank.b.y", "0")], &mut tool).expect_err("two pins in one place");
    assert!(
        found[0].message.contains("`a` and `b` of `crank` coincide"),
        "{}",
        found[0]
    );
    assert_eq!(tool, before);
}

#[test]
fn overrides_keep_the_grips_on_the_line() {
    let mut tool = read(EVERYTHING).tool;
    let set = |value: &str, tool: &mut Tool| {
        apply_overrides(tool, &[("lever.end.x".to_owned(), value.to_owned())])
    };
    assert_eq!(set("-180", &mut tool), Ok(()));
    let found = set("-95", &mut tool).expect_err("a short handle");
    assert!(
        found[0].message.contains("the grip at 100 mm is off"),
        "{}",
        found[0]
    );
}

#[test]
fn work_may_come_from_a_side_file() {
    let text = format!("{FOUR_BAR}[work]\nneed = \"eyelet.csv\"\n");
    let load = |path: &str| match path {
        "eyelet.csv" => Ok("gap,force\n0,2600\n3,0\n1.2,600\n".to_owned()),
        _ => Err("not there".to_owned()),
    };
    let tool = read_tool(&text, &load).expect("a tool").tool;
    assert_eq!(
        tool.work().expect("work").need,
        [[3.0, 0.0], [1.2, 600.0], [0.0, 2600.0]]
    );
}
