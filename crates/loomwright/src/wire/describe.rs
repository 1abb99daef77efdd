//! The bench's interface described for others: as OpenAPI, and as TypeScript for its own pages. Both are made
//! from the types that are really sent, so neither can say what is not so.

use std::collections::{BTreeMap, BTreeSet};

use schemars::generate::{Contract, SchemaSettings};
use schemars::{JsonSchema, SchemaGenerator};
use serde_json::{Map, Value, json};

/// What a call takes or gives.
#[derive(Clone, Copy)]
pub(crate) enum Shape {
    /// JSON of a type.
    Json(fn(&mut SchemaGenerator) -> String),
    /// Something of another media type.
    Bytes(&'static str),
    /// Nothing.
    None,
}

/// One call of the interface.
#[derive(Clone, Copy)]
pub(crate) struct Call {
    /// "get" or "post".
    pub(crate) method: &'static str,
    /// "/api/builds/{id}".
    pub(crate) path: &'static str,
    /// What it does, in a few words.
    pub(crate) what: &'static str,
    pub(crate) asks: Shape,
    pub(crate) answers: Shape,
}

/// The shape of a type.
pub(crate) fn shape<T: JsonSchema>() -> Shape {
    Shape::Json(named::<T>)
}

fn named<T: JsonSchema>(generator: &mut SchemaGenerator) -> String {
    let schema = generator.subschema_for::<T>().to_value();
    if let Some(to) = schema.get("$ref").and_then(Value::as_str) {
        return own_name(to);
    }
    // A list of something that has a name.
    let item = schema.pointer("/items/$ref").and_then(Value::as_str);
    format!("{}[]", item.map(own_name).expect("a call carries a named type or a list of one"))
}

/// "PlanWire" is "Plan" outside the program.
fn own_name(reference: &str) -> String {
    let name = reference.rsplit('/').next().unwrap_or(reference);
    name.strip_suffix("Wire").unwrap_or(name).to_owned()
}

/// What all calls speak of, gathered.
struct Gathered {
    /// By name, in the order of the alphabet.
    types: BTreeMap<String, Value>,
    /// Of each call: what it takes and gives.
    calls: Vec<(Option<String>, Option<String>)>,
}

fn gathered(calls: &[Call], also: &[Shape]) -> Gathered {
    let generator = |contract: Contract| {
        let mut settings = SchemaSettings::draft2020_12();
        settings.contract = contract;
        settings.into_generator()
    };
    // What is asked may leave out what is optional; what is answered never does.
    let (mut asks, mut answers) =
        (generator(Contract::Deserialize), generator(Contract::Serialize));
    let of = |shape: Shape, generator: &mut SchemaGenerator| match shape {
        Shape::Json(named) => Some(named(generator)),
        Shape::Bytes(_) | Shape::None => None,
    };
    let named = calls
        .iter()
        .map(|call| (of(call.asks, &mut asks), of(call.answers, &mut answers)))
        .collect();
    for shape in also {
        of(*shape, &mut answers);
    }
    let mut types = BTreeMap::new();
    for definitions in [asks.take_definitions(true), answers.take_definitions(true)] {
        for (name, schema) in definitions {
            types.insert(own_name(&name), renamed(schema));
        }
    }
    Gathered { types, calls: named }
}

/// The schema with its references under our own names.
fn renamed(schema: Value) -> Value {
    match schema {
        Value::Object(map) => Value::Object(
            map.into_iter()
                .map(|(key, value)| match value {
                    Value::String(to) if key == "$ref" => {
                        let to = format!("#/components/schemas/{}", own_name(&to));
                        (key, Value::String(to))
                    }
                    other => (key, renamed(other)),
                })
                .collect(),
        ),
        Value::Array(items) => Value::Array(items.into_iter().map(renamed).collect()),
        other => other,
    }
}

/// The interface as OpenAPI 3.1.
pub(crate) fn openapi(calls: &[Call], events: &[Shape]) -> Value {
    let gathered = gathered(calls, events);
    let mut paths: Map<String, Value> = Map::new();
    for (call, (asks, answers)) in calls.iter().zip(&gathered.calls) {
        let at = paths.entry(call.path).or_insert_with(|| json!({}));
        at[call.method] = operation(call, asks.as_deref(), answers.as_deref());
    }
    json!({
        "openapi": "3.1.0",
        "info": {
            "title": "The bench of loomwright",
            "version": env!("CARGO_PKG_VERSION"),
            "description": "What the pages of `loomwright bench` ask of the program, on loopback. docs/bench-api.md says what shapes cannot."
        },
        "paths": paths,
        "components": { "schemas": gathered.types }
    })
}

fn operation(call: &Call, asks: Option<&str>, answers: Option<&str>) -> Value {
    let parameters: Vec<Value> = call
        .path
        .split('{')
        .skip(1)
        .filter_map(|rest| rest.split_once('}'))
        .map(|(name, _)| {
            json!({ "name": name, "in": "path", "required": true, "schema": { "type": "string" } })
        })
        .collect();
    let mut of = json!({
        "summary": call.what,
        "responses": {
            "200": { "description": "done" },
            "default": {
                "description": "not done, and why",
                "content": { "application/json": { "schema": reference("Error") } }
            }
        }
    });
    if !parameters.is_empty() {
        of["parameters"] = Value::Array(parameters);
    }
    if let Some(content) = content(call.asks, asks) {
        of["requestBody"] = json!({ "required": true, "content": content });
    }
    if let Some(content) = content(call.answers, answers) {
        of["responses"]["200"]["content"] = content;
    }
    of
}

fn content(shape: Shape, name: Option<&str>) -> Option<Value> {
    match shape {
        Shape::Json(_) => {
            let name = name?;
            let schema = match name.strip_suffix("[]") {
                Some(item) => json!({ "type": "array", "items": reference(item) }),
                None => reference(name),
            };
            Some(json!({ "application/json": { "schema": schema } }))
        }
        Shape::Bytes(media) => Some(json!({ media: {} })),
        Shape::None => None,
    }
}

fn reference(name: &str) -> Value {
    json!({ "$ref": format!("#/components/schemas/{name}") })
}

/// The types of the interface for the bench's own pages.
pub(crate) fn typescript(calls: &[Call], events: &[Shape]) -> String {
    let Gathered { types, calls: named } = gathered(calls, events);
    let mut text = String::from(
        "// Written by `cargo xtask gen` from crates/loomwright/src/wire; changes made here are lost.\n",
    );
    for (name, schema) in &types {
        text.push('\n');
        comment(&mut text, "", schema);
        match schema.get("properties").and_then(Value::as_object) {
            Some(fields) => {
                text.push_str(&format!("export interface {name} {{\n"));
                let required: BTreeSet<&str> = schema["required"]
                    .as_array()
                    .map(|r| r.iter().filter_map(Value::as_str).collect())
                    .unwrap_or_default();
                for (field, of) in fields {
                    comment(&mut text, "  ", of);
                    let may = if required.contains(field.as_str()) { "" } else { "?" };
                    text.push_str(&format!("  {}{may}: {};\n", quoted(field), type_of(of)));
                }
                text.push_str("}\n");
            }
            None => text.push_str(&format!("export type {name} = {};\n", type_of(schema))),
        }
    }
    text.push_str(
        "\n/** Every call: what it takes and what it gives. */\nexport interface Calls {\n",
    );
    for (call, (asks, answers)) in calls.iter().zip(named) {
        let other = |shape: Shape, name: Option<String>| match (shape, name) {
            (_, Some(name)) => name,
            (Shape::Bytes(_), None) => "Blob".to_owned(),
            (Shape::Json(_) | Shape::None, None) => "null".to_owned(),
        };
        let (asks, answers) = (other(call.asks, asks), other(call.answers, answers));
        text.push_str(&format!("  /** {}. */\n", call.what));
        let key = format!("{} {}", call.method.to_uppercase(), call.path);
        text.push_str(&format!("  \"{key}\": {{ asks: {asks}; answers: {answers} }};\n"));
    }
    text.push_str("}\n");
    text
}

fn comment(text: &mut String, indent: &str, schema: &Value) {
    if let Some(words) = schema.get("description").and_then(Value::as_str) {
        let words = words.replace('\n', " ").replace("*/", "* /");
        text.push_str(&format!("{indent}/** {words} */\n"));
    }
}

fn quoted(name: &str) -> String {
    let plain = name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_');
    if plain { name.to_owned() } else { format!("\"{name}\"") }
}

/// The TypeScript of a schema.
fn type_of(schema: &Value) -> String {
    if let Some(to) = schema.get("$ref").and_then(Value::as_str) {
        return own_name(to);
    }
    for key in ["anyOf", "oneOf"] {
        if let Some(ways) = schema.get(key).and_then(Value::as_array) {
            return ways.iter().map(type_of).collect::<Vec<_>>().join(" | ");
        }
    }
    if let Some(words) = schema.get("enum").and_then(Value::as_array) {
        return words.iter().map(Value::to_string).collect::<Vec<_>>().join(" | ");
    }
    if let Some(word) = schema.get("const") {
        return word.to_string();
    }
    match schema.get("type") {
        Some(Value::String(kind)) => plain_type(kind, schema),
        Some(Value::Array(kinds)) => {
            let kinds = kinds.iter().filter_map(Value::as_str);
            kinds.map(|kind| plain_type(kind, schema)).collect::<Vec<_>>().join(" | ")
        }
        _ => "unknown".to_owned(),
    }
}

fn plain_type(kind: &str, schema: &Value) -> String {
    match kind {
        "integer" | "number" => "number".to_owned(),
        "boolean" => "boolean".to_owned(),
        "null" => "null".to_owned(),
        "string" => "string".to_owned(),
        "array" => match schema.get("prefixItems").and_then(Value::as_array) {
            Some(items) => {
                format!("[{}]", items.iter().map(type_of).collect::<Vec<_>>().join(", "))
            }
            None => array_of(schema),
        },
        "object" => {
            let of = schema.get("additionalProperties").filter(|a| a.is_object());
            format!("Record<string, {}>", of.map_or("unknown".to_owned(), type_of))
        }
        _ => "unknown".to_owned(),
    }
}

fn array_of(schema: &Value) -> String {
    let item = schema.get("items").map_or("unknown".to_owned(), type_of);
    let size = |key: &str| schema.get(key).and_then(Value::as_u64);
    match (size("minItems"), size("maxItems")) {
        (Some(least), Some(most)) if least == most && (1..=4).contains(&most) => {
            format!("[{}]", vec![item; most as usize].join(", "))
        }
        _ if item.contains(' ') => format!("({item})[]"),
        _ => format!("{item}[]"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_asked_may_be_left_out_and_what_is_answered_is_there() {
        let call = Call {
            method: "post",
            path: "/api/builds/{id}/set",
            what: "set keys",
            asks: shape::<super::super::SetAsked>(),
            answers: shape::<super::super::ChangedWire>(),
        };
        let text = typescript(&[call], &[]);
        assert!(text.contains("  gather?: string | null;"), "{text}");
        assert!(text.contains("  undo: string | null;"), "{text}");
        assert!(text.contains("export type Role = \"document\" | \"shop\""), "{text}");
        let page = openapi(&[call], &[]);
        assert_eq!(
            page["paths"]["/api/builds/{id}/set"]["post"]["parameters"][0]["name"],
            "id"
        );
        let to =
            "/paths/~1api~1builds~1{id}~1set/post/requestBody/content/application~1json/schema";
        assert_eq!(page.pointer(to).unwrap()["$ref"], "#/components/schemas/SetAsked");
    }
}
