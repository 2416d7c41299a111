//! `[materials]`, `[sections]` and `[joints]`.

use toml::de::DeValue;

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::Sign;
use super::spelling;
use crate::model::{
    Depth, Hand, JointData, JointId, Material, PartId, Section, Shear, Surface, joint_label,
};
use crate::units::Quantity;

impl Reader<'_> {
    pub(super) fn materials(&mut self, entry: &Entry<'_>) -> Vec<Material> {
        let Some(tables) = self.table(entry, "[materials]") else {
            return Vec::new();
        };
        let mut materials = Vec::new();
        for one in &tables.entries {
            self.good_name(one.key, one.key_span.clone());
            let title = format!("[materials.{}]", one.key);
            let Some(fields) = self.known_table(one, &title, &keys::MATERIAL) else {
                continue;
            };
            let stress = |reader: &mut Self, key| {
                let value = fields.get(key)?;
                reader.quantity(value, Quantity::Stress, Sign::Positive)
            };
            self.need(&fields, "yield");
            let yield_strength = stress(self, "yield");
            let ultimate = stress(self, "ultimate");
            let modulus = stress(self, "modulus");
            let density = fields.get("density");
            let density = density.and_then(|v| self.quantity(v, Quantity::Density, Sign::Positive));
            let price = fields.get("price");
            let price = price.and_then(|value| self.above_zero(value, "`price`", "2.4"));
            let words = Surface::ALL.map(|(word, _)| word);
            let surface = fields.get("surface");
            let surface = surface.and_then(|value| self.word(value, "surface", &words));
            let surface = Surface::ALL
                .into_iter()
                .find(|(word, _)| Some(*word) == surface);
            if let (Some(y), Some(u)) = (yield_strength, ultimate)
                && u < y
            {
                self.report(
                    Diagnostic::error(
                        code::STRENGTH,
                        fields.span_of("ultimate"),
                        "the ultimate strength is below the yield strength",
                    )
                    .help("the two may be swapped, or one has another unit"),
                );
            }
            // Kept even when a number is bad, so that its name is known to others.
            materials.push(Material {
                name: one.key.to_owned(),
                yield_strength: yield_strength.unwrap_or(f64::NAN),
                ultimate,
                modulus,
                density,
                price,
                surface: surface.map(|(_, surface)| surface),
            });
        }
        materials
    }

    pub(super) fn material(&mut self, materials: &[Material], value: &Value<'_>) -> Option<usize> {
        let name = self.text(value, "`material`")?;
        let found = materials.iter().position(|material| material.name == name);
        if found.is_none() {
            let message = format!("no material is called `{name}`");
            let problem = Diagnostic::error(code::UNKNOWN_MATERIAL, value.span(), message);
            let problem = self.hinted(problem, || {
                let names: Vec<&str> = materials.iter().map(|m| m.name.as_str()).collect();
                spelling::hint(name, "materials", &names)
            });
            self.report(problem.help(format!(
                "a material is a table of its own: [materials.{name}]"
            )));
        }
        found
    }

    pub(super) fn sections(
        &mut self,
        entry: &Entry<'_>,
        draft: &Draft,
        hand: Option<&Hand>,
        materials: &[Material],
        outlines: Option<&Entry<'_>>,
    ) -> Vec<Section> {
        let Some(tables) = self.table(entry, "[sections]") else {
            return Vec::new();
        };
        let mut sections = Vec::new();
        for one in &tables.entries {
            let part = self.part_named(draft, one.key, one.key_span.clone());
            let title = format!("[sections.{}]", one.key);
            if let Some(fields) = self.known_table(one, &title, &keys::SECTION) {
                if fields.get("layers").is_some() {
                    let key = format!("sections.{}.layers", one.key);
                    self.spans.insert(key, fields.span_of("layers"));
                }
                let outlined = outlines.is_some_and(|outlines| has(outlines, one.key));
                sections.extend(self.section(&fields, part, hand, materials, outlined));
            }
        }
        sections
    }

    fn section(
        &mut self,
        fields: &Fields<'_>,
        part: Option<PartId>,
        hand: Option<&Hand>,
        materials: &[Material],
        outlined: bool,
    ) -> Option<Section> {
        let length =
            |reader: &mut Self, value| reader.quantity(value, Quantity::Length, Sign::Positive);
        let thickness = self.need(fields, "thickness");
        let thickness = thickness.and_then(|v| length(self, v));
        let edge = fields.get("edge").and_then(|v| length(self, v));
        let plates = fields.get("plates").map(|value| {
            let plates = self.whole(value, "plates")?;
            if !(1..=100).contains(&plates) {
                self.report(
                    Diagnostic::error(
                        code::SIZE,
                        value.span(),
                        format!("{plates} plates are not possible"),
                    )
                    .help("`plates` counts the plates of the part side by side: 1 to 100"),
                );
            }
            u32::try_from(plates).ok()
        });
        let material = self.need(fields, "material");
        let material = material.and_then(|v| self.material(materials, v));
        let width = match fields.get("width") {
            None if outlined => Some(Depth::Outlined),
            _ => {
                let width = self.need(fields, "width");
                width.and_then(|value| self.depth(value, part, hand))
            }
        };
        let layers = fields.get("layers").map(|value| self.layers(value));
        let plates = plates.map(|plates| (plates, fields.span_of("plates")));
        let layers = layers.unwrap_or(Some(Vec::new()));
        let plates = self.plates(plates, layers.as_deref().unwrap_or(&[]));
        Some(Section {
            part: part?,
            width: width?,
            thickness: thickness?,
            plates,
            layers: layers?,
            edge,
            material: material?,
        })
    }

    fn depth(
        &mut self,
        value: &Value<'_>,
        part: Option<PartId>,
        hand: Option<&Hand>,
    ) -> Option<Depth> {
        if !value.get_ref().is_array() {
            let width = self.quantity(value, Quantity::Length, Sign::Positive);
            return width.map(Depth::Uniform);
        }
        let want = [
            (Quantity::Length, Sign::NotNegative),
            (Quantity::Length, Sign::Positive),
        ];
        let rows = self.rows(value, want, "a row of `width` is a pair [station, depth]")?;
        self.rising(value, &rows, "station");
        let held = hand.is_none_or(|hand| {
            let other = hand.against.as_ref().map(|line| line.part);
            part.is_none() || part == Some(hand.handle.part) || part == other
        });
        if !held {
            self.report(
                Diagnostic::error(
                    code::TOGETHER,
                    value.span(),
                    "stations run along a hand line, and this part has none",
                )
                .help("give one width, or make the part a handle in [hand]"),
            );
        }
        Some(Depth::Stations(rows))
    }

    /// Data of each joint of the draft, in its order.
    pub(super) fn joint_data(
        &mut self,
        entry: Option<&Entry<'_>>,
        draft: &Draft,
        materials: &[Material],
    ) -> Vec<JointData> {
        let mut data = vec![JointData::default(); draft.joints.len()];
        let Some(fields) = entry.and_then(|entry| self.table(entry, "[joints]")) else {
            return data;
        };
        let (own, pins): (Vec<Entry<'_>>, Vec<Entry<'_>>) = fields
            .entries
            .iter()
            .cloned()
            .partition(|e| !matches!(e.value.get_ref(), DeValue::Table(_)));
        let mut defaults = Fields {
            entries: own,
            ..fields.clone()
        };
        self.refuse_unknown(&mut defaults, &keys::JOINTS);
        let default = self.one_joint(&defaults, JointData::default(), materials);
        self.clearance_fits(&defaults, &default);
        let default = JointData {
            own: [false; 3],
            ..default
        };
        data.fill(default.clone());
        let mut from = vec![&defaults; data.len()];
        let tables: Vec<(Entry<'_>, Fields<'_>)> = pins
            .into_iter()
            .filter_map(|one| {
                let title = format!("[joints.{}]", one.key);
                let fields = self.known_table(&one, &title, &keys::ONE_JOINT)?;
                Some((one, fields))
            })
            .collect();
        for (one, fields) in &tables {
            let joint = self.one_joint(fields, default.clone(), materials);
            self.clearance_fits(fields, &joint);
            if draft.on_pin(one.key).is_empty() && !draft.has_joint(one.key) {
                self.unknown_pin(draft, one.key, one.key_span.clone());
            }
            for (i, data) in data.iter_mut().enumerate() {
                let pin = draft.joints.get(i).map(|joint| joint.pin.as_str());
                if pin == Some(one.key) || draft.joint_label(JointId::new(i)) == one.key {
                    *data = joint.clone();
                    if let Some(from) = from.get_mut(i) {
                        *from = fields;
                    }
                }
            }
        }
        self.friction_has_diameter(draft, &data, &from, &defaults);
        data
    }

    fn one_joint(
        &mut self,
        fields: &Fields<'_>,
        default: JointData,
        materials: &[Material],
    ) -> JointData {
        let mut joint = default;
        if let Some(value) = fields.get("diameter") {
            joint.diameter = self.quantity(value, Quantity::Length, Sign::Positive);
        }
        if let Some(friction) = fields.get("friction").and_then(|v| self.friction(v)) {
            joint.friction = friction;
        }
        if let Some(value) = fields.get("clearance") {
            let clearance = self.quantity(value, Quantity::Length, Sign::NotNegative);
            joint.clearance = clearance.unwrap_or(0.0);
        }
        if let Some(value) = fields.get("shear") {
            self.spans.insert("joints.shear".to_owned(), value.span());
            match self.word(value, "shear", &["single", "double"]) {
                Some("single") => joint.shear = Shear::Single,
                _ => joint.shear = Shear::Double,
            }
        }
        if let Some(value) = fields.get("material") {
            joint.material = self.material(materials, value);
        }
        joint.own = ["diameter", "friction", "clearance"].map(|key| fields.get(key).is_some());
        joint
    }

    fn clearance_fits(&mut self, fields: &Fields<'_>, joint: &JointData) {
        if joint
            .diameter
            .is_some_and(|diameter| joint.clearance >= diameter)
        {
            self.report(
                Diagnostic::error(
                    code::CLEARANCE,
                    fields.span_of("clearance"),
                    "the clearance is as large as the pin",
                )
                .help(
                    "`clearance` is hole minus pin, on the diameter: 0.05 is usual for a 6 mm pin",
                ),
            );
        }
    }

    /// The friction moment of a pin grows with its diameter, so friction needs one.
    fn friction_has_diameter(
        &mut self,
        draft: &Draft,
        data: &[JointData],
        from: &[&Fields<'_>],
        defaults: &Fields<'_>,
    ) {
        let mut seen = Vec::new();
        for (i, (joint, &fields)) in data.iter().zip(from).enumerate() {
            let source = if fields.get("friction").is_some() {
                fields
            } else {
                defaults
            };
            // A diameter that is there but cannot be read, or is mistyped, is reported already.
            let given = fields.meant("diameter") || defaults.meant("diameter");
            let span = source.span_of("friction");
            if joint.friction > 0.0 && joint.diameter.is_none() && !given && !seen.contains(&span) {
                let label = draft.joint_label(JointId::new(i));
                self.report(
                    Diagnostic::error(
                        code::TOGETHER,
                        span.clone(),
                        format!("friction at pin `{label}` needs the pin's diameter"),
                    )
                    .help(format!("add `diameter` to [joints] or to [joints.{label}]")),
                );
                seen.push(span);
            }
        }
    }
}

impl Reader<'_> {
    /// The sheets of the stack that plates run in.
    fn layers(&mut self, value: &Value<'_>) -> Option<Vec<u32>> {
        let mut layers = Vec::new();
        let items = self.list(value, "`layers` is a list of sheets")?;
        if items.is_empty() {
            let problem = Diagnostic::error(code::SIZE, value.span(), "no layer in `layers`");
            self.report(problem.help("name one for each plate, or leave `layers` out"));
        }
        for item in items {
            let layer = self.whole(item, "layers")?;
            let known = u32::try_from(layer)
                .ok()
                .filter(|layer| (1..=99).contains(layer));
            let fresh = known.filter(|layer| !layers.contains(layer));
            let Some(layer) = fresh else {
                let message = match known {
                    Some(_) => format!("layer {layer} is there twice"),
                    None => format!("there is no layer {layer}"),
                };
                let problem = Diagnostic::error(code::SIZE, item.span(), message);
                self.report(problem.help(
                    "sheets of the stack are counted from the near side: 1 to 99, each once",
                ));
                return None;
            };
            layers.push(layer);
        }
        Some(layers)
    }

    /// How many plates there are, by number and by layers.
    fn plates(
        &mut self,
        given: Option<(Option<u32>, std::ops::Range<usize>)>,
        layers: &[u32],
    ) -> u32 {
        let count = u32::try_from(layers.len()).unwrap_or(1);
        let Some((plates, span)) = given else {
            return count.max(1);
        };
        let plates = plates.unwrap_or(1);
        if !layers.is_empty() && plates != count {
            let message = format!("`plates` and `layers` do not agree: {plates} and {count}");
            let problem = Diagnostic::error(code::TOGETHER, span, message);
            self.report(problem.help("one layer for each plate; `plates` may be left out"));
        }
        plates
    }
}

/// Whether a table of names has this one.
fn has(outlines: &Entry<'_>, name: &str) -> bool {
    match outlines.value.get_ref() {
        DeValue::Table(table) => table.iter().any(|(key, _)| key.get_ref().as_ref() == name),
        _ => false,
    }
}

impl Draft {
    fn has_joint(&self, label: &str) -> bool {
        JointId::ids(self.joints.len()).any(|joint| self.joint_label(joint) == label)
    }

    /// Labels of all joints in reports.
    pub(super) fn joint_labels(&self) -> Vec<String> {
        JointId::ids(self.joints.len())
            .map(|joint| self.joint_label(joint))
            .collect()
    }

    /// Label of a joint in reports.
    pub(super) fn joint_label(&self, joint: JointId) -> String {
        joint_label(&self.parts, &self.joints, joint)
    }
}
