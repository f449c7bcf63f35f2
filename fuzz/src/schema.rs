//! Whether a `design.json` is what its schema says.

use std::sync::OnceLock;

use jsonschema::Validator;
use serde_json::Value;

/// Holds a design against the schema that ringwright prints.
pub fn check(design: &Value) {
    static SCHEMA: OnceLock<Validator> = OnceLock::new();
    let validator = SCHEMA.get_or_init(|| {
        let schema = serde_json::from_str(&ringwright::output::schema()).expect("the schema is JSON");
        jsonschema::validator_for(&schema).expect("the schema is one")
    });
    let wrong: Vec<String> =
        validator.iter_errors(design).take(3).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(wrong.is_empty(), "design.json: {}", wrong.join("\n"));
}
