//! Which load case is the worst, and what could not be checked.

use super::{FRAME, LEVER, RAM, TOOL, case, find, joint, lever, near, one, strut, tool};
use jawforce::geometry::Vec2;
use jawforce::model::{GripId, Tool};
use jawforce::strength::{Case, Factor, LoadCase, Note, Strength, check, hand_forces};

/// Turning and moving the whole tool with its loads changes no factor.
#[test]
fn factors_do_not_depend_on_the_place_of_the_tool() {
    let tool = tool(TOOL);
    let mut all = lever(&tool, 90.0, 150.0);
    for (part, forces) in strut(&tool, -900.0).part_forces.into_iter().enumerate() {
        all.part_forces[part].extend(forces);
    }
    let expected = one(&tool, &all);
    let (s, c) = 0.7_f64.sin_cos();
    let turned = |[x, y]: [f64; 2]| [c * x - s * y, s * x + c * y];
    let mut moved = all.clone();
    for forces in &mut moved.part_forces {
        for f in forces {
            f.at = turned(f.local.xy()).map(|v| v + 12.0).into();
            f.force = turned(f.force.xy()).into();
        }
    }
    moved.turn.fill(Vec2::new(c, s));
    let found = one(&tool, &moved);
    assert_eq!(found.factors.len(), expected.factors.len());
    for (a, b) in found.factors.iter().zip(&expected.factors) {
        assert!((a.factor / b.factor - 1.0).abs() < 1e-9, "{a:?} {b:?}");
    }
    assert_eq!(found.notes, expected.notes);
}

#[test]
fn the_worst_case_is_named() {
    let tool = tool(TOOL);
    let sheets = [300.0, 900.0, 700.0].map(|force| strut(&tool, force));
    let cases = sheets.iter().enumerate().map(|(k, sheet)| Case {
        position: 10 + k,
        grip: GripId::new(k % 2),
        load: if k == 1 {
            LoadCase::Work
        } else {
            LoadCase::HandLimit
        },
        ..case(sheet)
    });
    let strength = check(&tool, cases);
    for factor in &strength.factors {
        assert_eq!((factor.position, factor.grip.index()), (11, 1));
        assert_eq!(factor.load, LoadCase::Work);
    }
    let least = strength.least().expect("a factor");
    assert_eq!(strength.least_of(&least.name), Some(least));
    assert_eq!(strength.least_of("nothing"), None);
}

#[test]
fn hand_forces_of_a_position() {
    let list = |tool: &Tool, span, needed| hand_forces(tool, span, needed).collect::<Vec<_>>();
    let plain = tool(TOOL);
    assert_eq!(list(&plain, None, None), [(LoadCase::HandForce, 150.0)]);
    let limited = tool(&TOOL.replace("force = 150", "force = 150\nlimit = 220"));
    assert_eq!(
        list(&limited, None, Some(90.0)),
        [(LoadCase::HandLimit, 220.0), (LoadCase::Work, 90.0)]
    );
    let named = tool(&TOOL.replace("force = 150", "limit = \"norm-grip-w-60-64-p5\""));
    let [(LoadCase::HandLimit, force)] = list(&named, None, None)[..] else {
        panic!("a limit");
    };
    // Mathiowetz 1985: (55.1 − 1.645 × 10.1) lbf.
    assert!((force - 171.2).abs() < 0.1, "{force}");
}

#[test]
fn what_is_missing_is_named() {
    let text = TOOL
        .replace(
            "diameter = 5\nclearance = 0.2\nmaterial = \"pin\"",
            "[joints.heel]\ndiameter = 5",
        )
        .replace("ultimate = 510\nmodulus = \"205 GPa\"\n", "");
    let tool = tool(&text);
    let both = [900.0, -900.0].map(|force| strut(&tool, force));
    let strength = check(&tool, both.iter().map(case));
    let has = |note: &Note| {
        assert!(
            strength.notes.contains(note),
            "{note:?} is not in {:?}",
            strength.notes
        );
        note.text(&tool)
    };
    let (heel, post) = (joint(&tool, "heel"), joint(&tool, "post"));
    let (knee, wrist) = (joint(&tool, "knee"), joint(&tool, "wrist"));
    let mut others = vec![post, knee, wrist];
    others.sort_unstable();
    assert!(has(&Note::NoDiameter(others)).contains("post"));
    assert!(has(&Note::NoPinMaterial(vec![heel])).contains("pin heel"));
    assert!(has(&Note::NoSection(vec![FRAME])).contains("part frame"));
    assert!(has(&Note::NoModulus(vec![0])).contains("material plate"));
    assert!(has(&Note::NoEdge(vec![LEVER, RAM])).contains("edge"));
    assert!(
        strength
            .factors
            .iter()
            .all(|f| f.against != "0.577 ultimate"),
        "there is none"
    );
    let nothing = check(&tool, []);
    assert!(nothing.factors.is_empty() && nothing.notes.contains(&Note::NoCase));
}

#[test]
fn a_fork_that_cannot_be_is_noted() {
    let tool = tool(&TOOL.replace("plates = 2\n", ""));
    let strength = one(&tool, &strut(&tool, 900.0));
    let single = |n: &&Note| matches!(n, Note::SinglePlates(_));
    let note = strength.notes.iter().find(single).expect("a note");
    assert!(note.text(&tool).contains("knee") && note.text(&tool).contains("shear = \"single\""));
    assert!(
        !strength
            .factors
            .iter()
            .any(|f| f.formula.check.starts_with("pin bending"))
    );
}

#[test]
fn a_part_whose_forces_do_not_add_up_has_no_bending_line() {
    let tool = tool(TOOL);
    let mut sheet = lever(&tool, 90.0, 150.0);
    sheet.part_forces[LEVER][2].force[1] += 1.0;
    let bent = |strength: &Strength| {
        let of = |f: &&Factor| {
            f.name == "lever"
                && ["transverse shear", "bending with axial force"].contains(&f.formula.check)
        };
        strength.factors.iter().filter(of).count()
    };
    let holes = |strength: &Strength| find(strength, "lever", "bearing in the hole").value;
    let balanced = one(&tool, &lever(&tool, 90.0, 150.0));
    assert_eq!(bent(&balanced), 2);
    let strength = one(&tool, &sheet);
    assert_eq!(bent(&strength), 0);
    // The holes bear all the same, here 1 N more on 5 x 6 mm.
    near(holes(&strength), holes(&balanced) + 1.0 / 30.0);
    let note = Note::Unbalanced(vec![LEVER]);
    assert_eq!(
        note.text(&tool),
        "not checked: lever, its forces do not add up"
    );
    assert!(strength.notes.contains(&note));
    sheet.part_forces[LEVER][2].force[1] = f64::NAN;
    let strength = one(&tool, &sheet);
    assert!(
        strength
            .notes
            .iter()
            .any(|n| matches!(n, Note::NotANumber(..)))
    );
    assert!(strength.factors.iter().all(|f| f.factor.is_finite()));
}
