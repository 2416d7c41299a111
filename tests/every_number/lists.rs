//! The lists of `loads`, `compare`, `tolerance` and `parts`: CSV against JSON cell by cell, JSON against the analysis.

use super::{INCH, POUND, cell, printed, table, tool};
use crate::cli::Bench;
use crate::drawing::{DEMOS, demo};
use jawforce::analysis::{Analysis, Direction};
use jawforce::compare::{Variant, compare};
use jawforce::model::{At, Bound, GripId, PartId};
use jawforce::plates::weigh;
use jawforce::tolerance::{Clearance, Sampling};
use jawforce::units::{Quantity, UnitSystem};
use serde_json::Value;

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

fn json(args: &[&str]) -> Value {
    serde_json::from_str(&printed(&[args, &["--json"]].concat())).unwrap()
}

#[track_caller]
fn same(found: &Value, wanted: f64, what: &str) {
    let value = found.as_f64().unwrap_or_else(|| panic!("{what}: {found}"));
    assert!(
        (value - wanted).abs() <= 1e-9 * wanted.abs().max(1e-3),
        "{what}: {value}, must be {wanted}"
    );
}

/// Every force on every part: as the free bodies have it, in either file.
#[test]
fn free_bodies_are_those_of_the_analysis() {
    let mut forces = 0;
    for (k, name) in DEMOS.iter().enumerate() {
        let (units, length, force) = match k % 2 {
            0 => ("mm-N", 1.0, 1.0),
            _ => ("in-lbf", INCH, POUND),
        };
        let tool = tool(name);
        let grip = tool.hand.grips[0].to_string() + " mm";
        let analysis = Analysis::of(tool.clone());
        let positions = &analysis.stroke(Direction::Closing).unwrap().positions;
        let gap = positions[positions.len() / 2].gap[0];
        let (at, place) = (At::Gap(gap), format!("gap={gap:?}mm"));
        let file = demo(name);
        let call = [
            "loads",
            &file,
            "--at",
            &place,
            "--grip",
            &grip,
            "--hand-force",
            "90 N",
            "--units",
            units,
        ];
        let report = json(&call);
        let (headers, rows) = table(&printed(&[&call[..], &["--csv", "-"]].concat()));
        let mut rows = rows.into_iter();

        let case = analysis
            .loads(at, GripId::FIRST, 90.0, Direction::Closing)
            .unwrap();
        let found = &report["cases"][0];
        for (key, wanted) in [
            ("handle", case.handle.to_degrees()),
            ("travel", case.travel.to_degrees()),
            ("gap", case.gap / length),
            ("grip", case.grip / length),
            ("span", case.span.unwrap() / length),
            ("hand_force", 90.0 / force),
            ("jaw_force", case.jaw_force / force),
        ] {
            same(&found[key], wanted, &format!("{name} {key}"));
        }
        for (link, (part, axial)) in list(&found["links"]).iter().zip(&case.axial) {
            assert_eq!(link["part"].as_str(), Some(tool.parts[*part].name.as_str()));
            same(&link["axial"], axial / force, name);
        }
        for (part, sheet) in PartId::ids(tool.parts.len()).zip(list(&found["sheets"])) {
            assert_eq!(sheet["part"].as_str(), Some(tool.parts[part].name.as_str()));
            let wanted = case.sheet.on(part);
            let shown = list(&sheet["forces"]);
            assert_eq!(shown.len(), wanted.len(), "{name}");
            let about = [1, 2].map(|k| length * sheet["about"][k].as_f64().unwrap());
            let bench = sheet.get("bench").filter(|b| !b.is_null());
            let extra = bench.map(|b| {
                [
                    about[0] / length,
                    about[1] / length,
                    b[0].as_f64().unwrap(),
                    b[1].as_f64().unwrap(),
                    b[2].as_f64().unwrap(),
                    b[2].as_f64().unwrap(),
                ]
            });
            let mut all = Vec::new();
            for (force_line, own) in shown.iter().zip(wanted) {
                let what = format!("{name}, {}, {}", tool.parts[part].name, force_line["what"]);
                let (at, f) = (own.at.xy(), own.force.xy());
                let turning = (at[0] - about[0]) * f[1] - (at[1] - about[1]) * f[0] + own.moment;
                let torque = force * length;
                let numbers = [
                    at[0] / length,
                    at[1] / length,
                    f[0] / force,
                    f[1] / force,
                    own.moment / torque,
                    turning / torque,
                ];
                let places = [
                    &force_line["at"][0],
                    &force_line["at"][1],
                    &force_line["force"][0],
                    &force_line["force"][1],
                    &force_line["couple"],
                    &force_line["moment"],
                ];
                for (found, wanted) in places.into_iter().zip(numbers) {
                    let off = (found.as_f64().unwrap() - wanted).abs();
                    // A moment is the difference of two greater ones.
                    assert!(
                        off <= 1e-9 * wanted.abs().max(1.0),
                        "{what}: {found} {wanted}"
                    );
                }
                all.push(numbers);
                forces += 1;
            }
            all.extend(extra);
            for numbers in all {
                let row = rows.next().unwrap();
                let of = |start: &str| headers.iter().position(|h| h.starts_with(start)).unwrap();
                let what = format!("{name}, {row:?}");
                assert_eq!(row[of("part")], tool.parts[part].name);
                for (column, wanted) in [
                    ("handle_", case.handle.to_degrees()),
                    ("gap_", case.gap / length),
                    ("grip_", case.grip / length),
                    ("hand_force_", 90.0 / force),
                    ("jaw_force_", case.jaw_force / force),
                    ("x_", numbers[0]),
                    ("y_", numbers[1]),
                    ("Fx_", numbers[2]),
                    ("Fy_", numbers[3]),
                    ("couple_", numbers[4]),
                    ("moment_", numbers[5]),
                ] {
                    cell(&row[of(column)], Some(wanted), 6, &what);
                }
            }
        }
        assert!(rows.next().is_none(), "{name}");
    }
    assert!(forces > 100, "{forces}");
}

/// Every row of `compare`: the measures read anew one by one, the demands counted.
#[test]
fn rows_side_by_side_are_those_of_the_analysis() {
    for (name, units) in [
        ("eyelet-toggle", UnitSystem::MmN),
        ("excluder-cutter", UnitSystem::InLbf),
    ] {
        let tool = tool(name);
        let file = demo(name);
        let call = ["compare", &file, "--set", "joints.friction=0.2"];
        let report = json(&call);
        let (headers, rows) = table(&printed(&[&call[..], &["--csv", "-"]].concat()));
        let mut tool = jawforce::analysis::with_grips(&tool);
        assert!(jawforce::model::dimension::set(
            &mut tool,
            "joints.friction",
            0.2
        ));
        let analysis = Analysis::of(tool.clone());
        let outcomes = analysis.demands(Direction::Closing).unwrap();
        let columns = list(&report["columns"]);
        assert_eq!(rows.len(), tool.hand.grips.len());
        assert_eq!(list(&report["rows"]).len(), rows.len());
        let columns_known: Vec<_> = columns
            .iter()
            .map(|c| column(c["name"].as_str().unwrap()))
            .collect();
        let variant = Variant {
            file: 0,
            set: Vec::new(),
            tool: tool.clone(),
        };
        let library = compare(&[variant], &columns_known, &|| ());
        for (k, grip) in GripId::ids(rows.len()).enumerate() {
            let (found, row) = (&report["rows"][k], &rows[k]);
            let own = tool.hand.grips[k];
            let what = format!("{name} {own}");
            let of = |start: &str| headers.iter().position(|h| h.starts_with(start)).unwrap();
            let length = units.show(1.0, Quantity::Length);
            same(&found["grip"], own * length, &what);
            cell(&row[of("grip_")], Some(own * length), 6, &what);
            for (c, column) in columns_known.iter().enumerate() {
                let measure = column.kind().unwrap();
                let (named, jaw) = jawforce::measure::named(&tool, &column.measure).unwrap();
                let read = analysis
                    .measure(&named, jaw, column.at, Some(own), Direction::Closing)
                    .unwrap();
                let value = read
                    .ok()
                    .map(|v| measure.quantity.map_or(v, |q| units.show(v, q)));
                let what = format!("{what}, {}", columns[c]["name"]);
                same(&found["values"][c], value.unwrap(), &what);
                let header = columns[c]["name"].as_str().unwrap().replace(' ', "_");
                cell(&row[of(&header)], value, 6, &what);
            }
            let names = |o: &jawforce::analysis::Outcome| tool.demands[o.demand].grip.is_some();
            let mine =
                |o: &&jawforce::analysis::Outcome| o.grip.is_none_or(|g| g == own) || names(o);
            let read = outcomes.iter().filter(mine).count();
            let met = outcomes.iter().filter(mine).filter(|o| o.met).count();
            assert_eq!(library[k].met, Some((met, read)), "{what}");
            assert_eq!(found["met"].as_u64(), Some(met as u64), "{what}");
            assert_eq!(found["demands"].as_u64(), Some(read as u64), "{what}");
            cell(&row[of("demands_met")], Some(met as f64), 0, &what);
            let count = headers.iter().position(|h| h == "demands").unwrap();
            cell(&row[count], Some(read as f64), 0, &what);
            let _ = grip;
        }
    }
}

/// A column by its name in the report.
fn column(name: &str) -> jawforce::compare::Column {
    let (measure, at) = name
        .split_once(" at ")
        .map_or((name, None), |(m, at)| (m, Some(at)));
    let at = at.map(|at| match at {
        "open" => At::Open,
        "shut" => At::Shut,
        "peak" => At::Peak,
        other => panic!("{other}: not among the usual columns"),
    });
    jawforce::compare::Column {
        measure: measure.to_owned(),
        at,
    }
}

/// Shares, worst case, root-sum-square, samples that meet a demand: the study's, and these of one another.
#[test]
fn stack_ups_are_those_of_the_study() {
    let (mut plays, mut measures) = (0, 0);
    for name in [
        "eyelet-toggle",
        "pin-plunger",
        "excluder-cutter",
        "wire-crimp-pliers",
    ] {
        let tool = jawforce::analysis::with_grips(&tool(name));
        let units = tool.units;
        let file = demo(name);
        let call = ["tolerance", &file, "--samples", "300"];
        let report = json(&call);
        let (_, rows) = table(&printed(&[&call[..], &["--csv", "-"]].concat()));
        let mut rows = rows.into_iter();
        let sampling = Sampling {
            samples: 300,
            ..Sampling::default()
        };
        let study = Analysis::of(tool.clone()).tolerance(&sampling).unwrap();
        assert_eq!(
            report["all_met"].as_u64(),
            study.all_met.map(|met| met as u64)
        );
        assert_eq!(list(&report["measures"]).len(), study.findings.len());
        for (found, finding) in list(&report["measures"]).iter().zip(&study.findings) {
            let what = format!("{name}, {}", found["name"]);
            let quantity = finding.subject.measure.kind().quantity;
            let show = |v: f64| quantity.map_or(v, |q| units.show(v, q));
            let mut own: Vec<f64> = finding.shares.iter().map(|s| show(s.share)).collect();
            for clearance in &finding.clearances {
                if let Clearance::Random(within) = clearance {
                    own.push(show(*within));
                    plays += 1;
                }
            }
            own.sort_by(|a, b| b.abs().total_cmp(&a.abs()));
            let shares = list(&found["shares"]);
            assert_eq!(shares.len(), own.len(), "{what}");
            for (share, own) in shares.iter().zip(&own) {
                same(&share[1], *own, &what);
            }
            let worst: f64 = own.iter().map(|s| s.abs()).sum();
            let root = own.iter().map(|s| s * s).sum::<f64>().sqrt();
            let close = |key: &str, wanted: f64| {
                let value = found[key].as_f64().unwrap();
                assert!(
                    (value - wanted).abs() <= 1e-9 * wanted,
                    "{what} {key}: {value} {wanted}"
                );
            };
            close("worst_case", worst);
            close("root_sum_square", root);
            same(&found["nominal"], show(finding.nominal), &what);
            if let Some(summary) = &finding.summary {
                same(&found["mean"], show(summary.mean), &what);
                same(&found["deviation"], show(summary.deviation), &what);
                for (shown, own) in list(&found["at_percentiles"])
                    .iter()
                    .zip(summary.percentiles)
                {
                    same(shown, show(own), &what);
                }
                let counted: u64 = list(&found["bars"]).iter().filter_map(Value::as_u64).sum();
                assert_eq!(counted, summary.count as u64, "{what}");
            }
            let bound = finding.subject.bound;
            assert_eq!(
                found["met"].as_u64(),
                finding.met.map(|m| m as u64),
                "{what}"
            );
            assert_eq!(
                found["nominal_met"].as_bool(),
                bound.map(|b: Bound| b.holds(finding.nominal))
            );
            let names = shares
                .iter()
                .map(|s| (s[0].as_str().unwrap(), s[1].as_f64().unwrap()));
            for (dimension, value) in
                names.chain([("worst case", worst), ("root-sum-square", root)])
            {
                let row = rows.next().unwrap();
                assert_eq!(row[0], found["name"].as_str().unwrap());
                assert_eq!(row[2], dimension);
                cell(&row[3], Some(value), 9, &what);
            }
            measures += 1;
        }
        assert!(rows.next().is_none());
    }
    assert!(plays > 10 && measures > 20, "{plays} {measures}");
}

/// The plates: what they measure and weigh, and what they cost.
#[test]
fn plates_are_those_of_the_analysis() {
    let mut seen = 0;
    for name in DEMOS {
        let tool = tool(name);
        let weight = weigh(&tool);
        if weight.plates.is_empty() {
            continue;
        }
        let bench = Bench::empty();
        let file = demo(name);
        let report = bench
            .run(&["parts", &file, "-o", ".", "--json"])
            .code(0)
            .json();
        let text = std::fs::read_to_string(bench.path("parts.csv")).unwrap();
        let (headers, rows) = table(&text);
        let parts = list(&report["parts"]);
        assert_eq!(rows.len(), parts.len());
        assert_eq!(rows.len(), weight.plates.len(), "{name}");
        for ((row, part), plate) in rows.iter().zip(parts).zip(&weight.plates) {
            let what = format!("{name} {row:?}");
            assert_eq!(row[0], tool.parts[plate.part].name);
            let show = |value: f64, quantity| tool.units.show(value, quantity);
            same(&part["area"], show(plate.area, Quantity::Area), &what);
            same(
                &part["mass"],
                show(plate.mass.unwrap(), Quantity::Mass),
                &what,
            );
            for (start, key) in [
                ("plates", "plates"),
                ("thickness", "thickness"),
                ("area", "area"),
                ("mass", "mass"),
                ("slots", "slots"),
                ("price", "price"),
            ] {
                let column = headers.iter().position(|h| h.starts_with(start)).unwrap();
                cell(&row[column], part[key].as_f64(), 6, &what);
                seen += 1;
            }
            for (start, k) in [("width", 0), ("height", 1)] {
                let column = headers.iter().position(|h| h.starts_with(start)).unwrap();
                cell(&row[column], part["rectangle"][k].as_f64(), 6, &what);
            }
        }
    }
    assert!(seen > 20, "{seen}");
}
