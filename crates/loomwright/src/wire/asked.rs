//! What the bench's pages ask.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Deserialize;
use serde_json::Value;

/// A new build.
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct NewBuildAsked {
    /// Name of its folder: letters, digits, - and _.
    pub(crate) name: String,
    /// The example to copy.
    pub(crate) example: Option<String>,
    /// Answers to the first questions. With neither, the commented starter is written.
    pub(crate) answers: Option<BTreeMap<String, String>>,
}

/// Answers so far.
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct AnswersAsked {
    /// By the question's id.
    pub(crate) answers: BTreeMap<String, String>,
}

/// Another text of a file.
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct TextAsked {
    /// The version it was made from.
    pub(crate) base: u64,
    /// The document where absent.
    pub(crate) file: Option<String>,
    pub(crate) text: String,
    /// What to call it in the history.
    pub(crate) label: Option<String>,
    /// Changes of the same name in a row are one step of undo.
    pub(crate) gather: Option<String>,
    /// How the tab calls itself.
    pub(crate) asker: Option<String>,
}

/// Keys to set.
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct SetAsked {
    pub(crate) edits: Vec<EditAsked>,
    /// What to call it in the history.
    pub(crate) label: Option<String>,
    /// Changes of the same name in a row are one step of undo.
    pub(crate) gather: Option<String>,
    /// How the tab calls itself.
    pub(crate) asker: Option<String>,
}

/// A key to set.
#[derive(Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct EditAsked {
    /// The document where absent.
    pub(crate) file: Option<String>,
    /// ["run", "phases", "length"]; a number counts in a list of tables, "+" adds one to it.
    pub(crate) path: Vec<String>,
    /// Text, number, truth, list or table; null or absent takes the key away.
    pub(crate) value: Option<Value>,
    /// With a number: it is written as text with this unit.
    pub(crate) unit: Option<String>,
}

/// A step back or forth.
#[derive(Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct StepAsked {
    /// How the tab calls itself.
    pub(crate) asker: Option<String>,
}

/// Which of two versions to keep.
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ConflictAsked {
    pub(crate) keep: KeepAsked,
    /// How the tab calls itself.
    pub(crate) asker: Option<String>,
}

/// The bench's files, or those on the disk.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum KeepAsked {
    Ours,
    Theirs,
}

/// A changed copy to plan.
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct WhatIfAsked {
    pub(crate) edits: Vec<EditAsked>,
    /// How the tab calls itself.
    pub(crate) asker: Option<String>,
    /// Grows with each question of the same asker.
    pub(crate) turn: Option<u64>,
    /// Leave the whole plan out of the answer.
    pub(crate) brief: Option<bool>,
}

/// A part for the shop's shelf.
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ShopAsked {
    /// "lug", "cable", ...
    pub(crate) kind: String,
    /// By the names of the kind's fields.
    pub(crate) fields: BTreeMap<String, Value>,
    /// Only judge it.
    pub(crate) only_check: Option<bool>,
    /// How the tab calls itself.
    pub(crate) asker: Option<String>,
}

impl ShopAsked {
    /// What the part is to be called.
    pub(crate) fn id(&self) -> Option<String> {
        self.fields.get("id").and_then(Value::as_str).map(|id| id.trim().to_owned())
    }
}

/// A book.
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct BookAsked {
    /// Its chapters; all where absent or empty.
    pub(crate) parts: Option<Vec<String>>,
}

/// Inputs of a figure.
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct FigureAsked {
    /// As text with units; lists as TOML.
    pub(crate) given: BTreeMap<String, String>,
}

/// A figure over one input.
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct SweepAsked {
    /// As text with units.
    pub(crate) given: BTreeMap<String, String>,
    /// The input that is swept.
    pub(crate) input: String,
    /// From, as text with its unit; half the given value where absent.
    pub(crate) from: Option<String>,
    /// To, as text with its unit; twice the given value where absent.
    pub(crate) to: Option<String>,
    /// How many answers, at most 200.
    pub(crate) count: Option<usize>,
}

/// Words to look for.
#[derive(Deserialize, JsonSchema)]
pub(crate) struct WordsAsked {
    pub(crate) words: Option<String>,
    /// Only rows of this kind.
    pub(crate) kind: Option<String>,
}

/// A value to write into a document.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Given {
    /// Text, or a quantity.
    Text(String),
    /// A whole number.
    Whole(i64),
    /// A number.
    Number(f64),
    /// true or false.
    Truth(bool),
    /// A list.
    List(Vec<Given>),
    /// Values by name.
    Table(Vec<(String, Given)>),
}

impl EditAsked {
    /// What is to be written; none takes the key away.
    pub(crate) fn given(&self) -> Option<Given> {
        let value = self.value.as_ref()?;
        match (&self.unit, value.as_f64()) {
            (Some(unit), Some(number)) => {
                Some(Given::Text(format!("{} {unit}", plain(number))))
            }
            _ => of_json(value),
        }
    }
}

/// A JSON value as a document can say it; null is no value.
pub(crate) fn of_json(value: &Value) -> Option<Given> {
    Some(match value {
        Value::Null => return None,
        Value::Bool(truth) => Given::Truth(*truth),
        Value::Number(number) => match number.as_i64() {
            Some(whole) => Given::Whole(whole),
            None => Given::Number(number.as_f64()?),
        },
        Value::String(text) => Given::Text(text.clone()),
        Value::Array(items) => Given::List(items.iter().filter_map(of_json).collect()),
        Value::Object(fields) => Given::Table(
            fields.iter().filter_map(|(k, v)| Some((k.clone(), of_json(v)?))).collect(),
        ),
    })
}

/// A number as a person writes it: what binary fractions leave behind is rounded away.
fn plain(number: f64) -> String {
    let text = format!("{number:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// An edit from JSON text, for tests.
#[cfg(test)]
pub(crate) fn edit_of(path: &[&str], value: Option<&str>) -> EditAsked {
    EditAsked {
        file: None,
        path: path.iter().map(|p| (*p).to_owned()).collect(),
        value: value.map(|text| serde_json::from_str(text).unwrap()),
        unit: None,
    }
}

/// What a call may ask.
pub(crate) trait Asked: serde::de::DeserializeOwned {}
impl<T: serde::de::DeserializeOwned> Asked for T {}

/// What a body asks.
///
/// # Errors
/// In words, with line and column.
pub(crate) fn asked<T: Asked>(body: &[u8]) -> Result<T, String> {
    serde_json::from_slice(body).map_err(|error| error.to_string())
}
