//! JSON Schema of the boat file, from the same key lists the reader uses.

use crate::checked::{LONGEST_TEXT, MOST_OF_A_KIND};
use crate::keys::{Form, Key, Need, ROOT, Section};
use crate::kind::Kind;
use crate::quantity::show;
use serde_json::{Map, Value, json};

/// JSON Schema (draft 2020-12) of `boat.toml` for editors: keys, forms, words and units; limits
/// are told in words, since they are on texts.
pub fn json_schema() -> Value {
    let mut schema = table(&ROOT);
    let head = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Boat file",
    });
    if let (Value::Object(schema), Value::Object(head)) = (&mut schema, head) {
        for (index, (key, value)) in head.into_iter().enumerate() {
            schema.shift_insert(index, key, value);
        }
    }
    schema
}

fn table(section: &Section) -> Value {
    let properties: Map<String, Value> = section
        .keys
        .iter()
        .map(|key| (key.name.to_owned(), property(key)))
        .collect();
    let required: Vec<&str> = section
        .keys
        .iter()
        .filter(|key| matches!(key.need, Need::Required))
        .map(|key| key.name)
        .collect();
    json!({
        "type": "object",
        "description": section.doc,
        "additionalProperties": false,
        "required": required,
        "properties": properties,
    })
}

fn property(key: &Key) -> Value {
    let mut schema = form(key);
    if let Value::Object(map) = &mut schema
        && !map.contains_key("description")
    {
        map.insert("description".into(), json!(description(key)));
    }
    schema
}

fn description(key: &Key) -> String {
    match &key.form {
        Form::Quantity { kind, min, max } => {
            format!(
                "{} {} to {}.",
                key.doc,
                show(*kind, *min),
                show(*kind, *max)
            )
        }
        _ => key.doc.to_owned(),
    }
}

fn form(key: &Key) -> Value {
    match &key.form {
        Form::Quantity { kind, .. } => quantity(*kind),
        Form::Count { min, max } => json!({"type": "integer", "minimum": min, "maximum": max}),
        Form::Text => json!({"type": "string", "minLength": 1, "maxLength": LONGEST_TEXT}),
        Form::Flag => json!({"type": "boolean"}),
        Form::Choice(words) => json!({"enum": words}),
        Form::Path => path(),
        Form::Paths => json!({
            "type": "array", "minItems": 1, "maxItems": MOST_OF_A_KIND, "items": path(),
        }),
        Form::Lengths { count, .. } => json!({
            "type": "array", "minItems": count, "maxItems": count, "items": quantity(Kind::Length),
        }),
        Form::Cells => json!({"type": "string", "pattern": "^[0-9]+ *[sS] *([0-9]+ *[pP])?$"}),
        Form::Table(section) => table(section),
        Form::Tables(section) => {
            json!({"type": "array", "maxItems": MOST_OF_A_KIND, "items": table(section)})
        }
        Form::Variant(choices) => {
            json!({"oneOf": choices.iter().map(variant).collect::<Vec<_>>()})
        }
    }
}

fn variant((name, section): &(&str, &'static Section)) -> Value {
    let mut schema = table(section);
    schema["properties"]["type"] = json!({"const": name});
    schema
}

fn path() -> Value {
    json!({"type": "string", "pattern": "^[^/\\\\~:][^\\\\:]*$"})
}

fn quantity(kind: Kind) -> Value {
    let number = r"[+\-−]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+\-]?[0-9]+)?";
    if kind == Kind::Number {
        let text = json!({"type": "string", "pattern": format!("^ *{number}")});
        return json!({"anyOf": [{"type": "number"}, text]});
    }
    let symbols: Vec<&str> = kind.units().iter().map(|unit| unit.symbol).collect();
    let pattern = format!("^ *{number} *[^0-9 ]");
    if kind.allows_bare() {
        let text = json!({"type": "string", "pattern": format!("^ *{number}")});
        return json!({"anyOf": [{"type": "number"}, text]});
    }
    let first = symbols[0];
    json!({
        "type": "string",
        "pattern": pattern,
        "examples": [format!("12 {first}"), format!("12 {first} ± 1 {first}")],
        "$comment": format!("units: {}", symbols.join(", ")),
    })
}
