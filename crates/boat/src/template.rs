//! Texts for a new boat folder: one complete, commented boat file for each starter hull.

/// Every type that [`template`] knows, as `[hull.starter] type` names them.
pub const STARTER_TYPES: &[&str] = &["three-point", "outrigger", "vee", "catamaran"];

/// A boat file for a starter hull of type `starter`, named `name`; `None` for an unknown type.
///
/// It loads without a problem, and every table in it says what it is for.
pub fn template(starter: &str, name: &str) -> Option<String> {
    let text = match starter {
        "three-point" => include_str!("templates/three_point.toml"),
        "outrigger" => include_str!("templates/outrigger.toml"),
        "vee" => include_str!("templates/vee.toml"),
        "catamaran" => include_str!("templates/catamaran.toml"),
        _ => return None,
    };
    // Quotes and control characters in the name are escaped by the TOML writer.
    let quoted = toml_edit::Value::from(name.trim()).to_string();
    Some(text.replacen("\"NAME\"", quoted.trim(), 1))
}
