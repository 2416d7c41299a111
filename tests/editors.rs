//! What editors and shells are given.

use std::process::Command;

fn print(args: &[&str]) -> String {
    let done = Command::new(env!("CARGO_BIN_EXE_jawforce"))
        .args(args)
        .output()
        .unwrap();
    assert!(done.status.success(), "{args:?}");
    String::from_utf8(done.stdout).unwrap()
}

/// The schema that the program prints.
pub struct Schema {
    schemas: boon::Schemas,
    index: boon::SchemaIndex,
}

impl Schema {
    pub fn printed() -> Self {
        let schema: serde_json::Value = serde_json::from_str(&print(&["schema"])).unwrap();
        let mut compiler = boon::Compiler::new();
        compiler.add_resource("tool.schema.json", schema).unwrap();
        let mut schemas = boon::Schemas::new();
        let index = compiler.compile("tool.schema.json", &mut schemas).unwrap();
        Self { schemas, index }
    }

    /// Its complaints about a tool file.
    pub fn complaint(&self, toml: &str) -> Option<String> {
        let file: toml::Value = toml::from_str(toml).unwrap();
        let value = serde_json::to_value(file).unwrap();
        let said = self.schemas.validate(&value, self.index).err();
        said.map(|e| e.to_string())
    }
}

#[test]
fn every_demo_starter_and_test_file_keeps_the_schema() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let (schema, mut seen) = (Schema::printed(), 0);
    for folder in ["demo-data", "src/cli/starters", "tests/files"] {
        for entry in std::fs::read_dir(root.join(folder)).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|e| e == "toml") {
                let text = std::fs::read_to_string(&path).unwrap();
                assert_eq!(schema.complaint(&text), None, "{}", path.display());
                seen += 1;
            }
        }
    }
    assert!(seen >= 10, "{seen} files");
}

#[test]
fn the_schema_refuses_what_the_reader_refuses() {
    let (schema, good) = (Schema::printed(), include_str!("files/everything.toml"));
    for (from, to) in [
        ("smooth    = true", "smoth = true"),
        ("units = \"mm-N\"", "units = \"metric\""),
        ("acts = \"both\"", "acts = \"all\""),
        ("at   = \"peak\"", "at = \"highest\""),
        ("steps = 90", "steps = 1"),
        ("plates    = 2", "plates = 101"),
        ("on      = \"ram.nose\"", "on = \"nose\""),
        ("grip = 100 }", "grip = 100, gap = 3 }"),
        ("shut  = { span = 70", "shut  = { gap = 7"),
        ("knee    = [14, -6]", "knee = [14]"),
        ("frame.post.y   = 0.02", "frame.post.y = true"),
    ] {
        let bad = good.replacen(from, to, 1);
        assert_ne!(bad, good, "{from}");
        assert!(schema.complaint(&bad).is_some(), "{to}");
        assert!(
            jawforce::input::read_tool(&bad, &|_| Err(String::new())).is_err(),
            "{to}"
        );
    }
}

/// The reader takes letters of any script in a name; so must an editor.
#[test]
fn the_schema_takes_the_names_that_the_reader_takes() {
    let schema = Schema::printed();
    for (name, taken) in [
        ("stößel", true),
        ("ram-2_b", true),
        ("a ram", false),
        ("ram!", false),
    ] {
        let file = format!(
            r#"
            [tool]
            units = "mm-N"
            [parts.base]
            fixed = true
            pins  = {{ heel = [0, 0] }}
            marks = {{ anvil = [30, 0] }}
            [parts."{name}"]
            pins  = {{ heel = [0, 0] }}
            marks = {{ nose = [30, 0] }}
            [hand]
            part  = "{name}"
            line  = [[0, 0], [-120, 0]]
            grips = [120]
            [[jaw]]
            on = "{name}.nose"
            against = "base.anvil"
            axis = 90
            [stroke]
            open = {{ gap = 8 }}
            shut = {{ gap = 0 }}
            "#
        );
        let read = jawforce::input::read_tool(&file, &crate::models::beside).map(|_| ());
        assert_eq!(read.is_ok(), taken, "{name}: {read:?}");
        let said = schema.complaint(&file);
        assert_eq!(said.is_none(), taken, "{name}: {said:?}");
    }
}

/// Keys of the schema, at any depth, that say nothing about themselves.
fn silent(node: &serde_json::Value, path: &str, found: &mut Vec<String>) {
    let inner: Vec<(&String, &serde_json::Value)> = match node {
        serde_json::Value::Object(map) => map.iter().collect(),
        serde_json::Value::Array(list) => {
            list.iter().for_each(|one| silent(one, path, found));
            return;
        }
        _ => return,
    };
    for (key, value) in inner {
        if key == "properties" {
            for (name, one) in value.as_object().unwrap() {
                let path = format!("{path}/{name}");
                if one["description"].as_str().is_none_or(str::is_empty) {
                    found.push(path.clone());
                }
                silent(one, &path, found);
            }
        } else {
            silent(value, path, found);
        }
    }
}

#[test]
fn every_key_is_described() {
    let schema: serde_json::Value = serde_json::from_str(&print(&["schema"])).unwrap();
    let mut found = Vec::new();
    silent(&schema, "", &mut found);
    assert_eq!(found, [""; 0]);
}

#[test]
fn completions_and_the_manual_page_name_every_command() {
    for shell in ["bash", "zsh", "fish", "powershell"] {
        let text = print(&["completions", shell]);
        assert!(
            text.contains("stroke") && text.contains("hand-force"),
            "{shell}"
        );
    }
    let page = print(&["man"]);
    assert!(page.contains(".TH jawforce") && page.contains("stroke"));
    let page = print(&["man", "stroke"]);
    assert!(
        page.contains(".TH jawforce-stroke") && page.contains("hand\\-force"),
        "{page}"
    );
    let bench = crate::cli::Bench::empty();
    bench.run(&["man", "-o", "."]).code(0);
    let names: Vec<String> = bench.files().into_keys().collect();
    for name in [
        "jawforce.1",
        "jawforce-stroke.1",
        "jawforce-keys.1",
        "jawforce-man.1",
    ] {
        assert!(names.iter().any(|known| known == name), "{name}: {names:?}");
    }
    bench
        .run(&["man", "strok"])
        .code(2)
        .says("there is no command `strok`");
}
