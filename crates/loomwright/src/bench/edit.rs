//! Single keys set in the text of a document; comments, order and all other text stay as they are.

use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, TableLike, Value};

use crate::wire::{EditAsked, Given};

/// The document with one key set, or taken away.
///
/// # Errors
/// In words, when the text is no TOML or the path leads through something that is no table.
pub(crate) fn set(text: &str, edit: &EditAsked) -> Result<String, String> {
    let mut document: DocumentMut = text.parse().map_err(|error: toml_edit::TomlError| {
        let first = error.message().lines().next().unwrap_or_default().to_owned();
        format!("the document cannot be read, so no key of it can be set: {first}")
    })?;
    let Some((key, tables)) = edit.path.split_last() else {
        return Err("the path of a key is empty".to_owned());
    };
    if edit.path.iter().any(String::is_empty) {
        return Err("a name in the path of a key is empty".to_owned());
    }
    let value = edit.given();
    let mut place: &mut dyn TableLike = document.as_table_mut();
    for (depth, name) in tables.iter().enumerate() {
        if !place.contains_key(name) {
            if value.is_none() {
                return Ok(text.to_owned());
            }
            place.insert(name, fresh());
        }
        let item = place.get_mut(name).expect("it is there or was just put there");
        if item.is_array_of_tables() || item.as_array().is_some() {
            return in_list(document, &edit.path, depth, value);
        }
        let shown = edit.path[..=depth].join(".");
        place = item
            .as_table_like_mut()
            .ok_or_else(|| format!("`{shown}` is a value and has no keys in it"))?;
    }
    put(place, key, value)?;
    Ok(document.to_string())
}

/// A table that is only there for what stands in it.
fn fresh() -> Item {
    let mut table = Table::new();
    table.set_implicit(true);
    Item::Table(table)
}

/// Sets a key of one table of a list, or adds a table to it.
fn in_list(
    mut document: DocumentMut,
    path: &[String],
    depth: usize,
    value: Option<Given>,
) -> Result<String, String> {
    let shown = path[..=depth].join(".");
    let item = reached(&mut document, &path[..=depth])?;
    if !item.is_array_of_tables() {
        return in_array(document, path, depth, value);
    }
    let tables = item.as_array_of_tables_mut().expect("it is one");
    let which = path.get(depth + 1).map_or("", String::as_str);
    let rest = &path[(depth + 2).min(path.len())..];
    if which == "+" {
        tables.push(Table::new());
    }
    let index = match which {
        "+" => tables.len() - 1,
        number => number.parse().ok().filter(|i| *i < tables.len()).ok_or_else(|| {
            format!("`{shown}` has no table {number}: it has {}", tables.len())
        })?,
    };
    match (rest, value) {
        ([], None) => {
            tables.remove(index);
        }
        ([], Some(Given::Table(fields))) => {
            let table = tables.get_mut(index).expect("the index was checked");
            for (key, value) in fields {
                put(table, &key, Some(value))?;
            }
        }
        ([key], value) => {
            put(tables.get_mut(index).expect("the index was checked"), key, value)?;
        }
        ([table, key], value) => {
            let of = tables.get_mut(index).expect("the index was checked");
            if !of.contains_key(table) {
                of.insert(table, Item::Table(Table::new()));
            }
            let of = of.get_mut(table).and_then(Item::as_table_like_mut);
            put(of.ok_or_else(|| format!("`{shown}.{table}` has no keys in it"))?, key, value)?;
        }
        _ => return Err(format!("the path goes too deep behind `{shown}`")),
    }
    Ok(document.to_string())
}

/// What stands at a path.
fn reached<'a>(document: &'a mut DocumentMut, path: &[String]) -> Result<&'a mut Item, String> {
    let mut item: &mut Item = document.as_item_mut();
    for name in path {
        item = item
            .get_mut(name.as_str())
            .ok_or_else(|| format!("there is no `{}`", path.join(".")))?;
    }
    Ok(item)
}

/// Sets one value of a list of values.
fn in_array(
    mut document: DocumentMut,
    path: &[String],
    depth: usize,
    value: Option<Given>,
) -> Result<String, String> {
    let shown = path[..=depth].join(".");
    let item = reached(&mut document, &path[..=depth])?;
    let array = item.as_array_mut().ok_or_else(|| format!("`{shown}` is no list"))?;
    let which = path.get(depth + 1).map_or("", String::as_str);
    if path.len() != depth + 2 {
        return Err(format!("the path goes too deep behind `{shown}`"));
    }
    let index: Option<usize> = which.parse().ok().filter(|i| *i < array.len());
    match (which, index, value) {
        ("+", _, Some(value)) => array.push(toml(value)),
        (_, Some(index), Some(value)) => {
            array.replace(index, toml(value));
        }
        (_, Some(index), None) => {
            array.remove(index);
        }
        _ => return Err(format!("`{shown}` has no item {which}: it has {}", array.len())),
    }
    Ok(document.to_string())
}

/// Sets a key where it stands, with the remark behind it, or adds it at the end of its table.
fn put(table: &mut dyn TableLike, key: &str, value: Option<Given>) -> Result<(), String> {
    let Some(value) = value else {
        table.remove(key);
        return Ok(());
    };
    match table.get_mut(key) {
        Some(Item::Value(old)) => {
            let decor = old.decor().clone();
            *old = toml(value);
            *old.decor_mut() = decor;
        }
        Some(Item::Table(_) | Item::ArrayOfTables(_)) => {
            return Err(format!("`{key}` is a table: set a key in it"));
        }
        Some(Item::None) | None => {
            table.insert(key, Item::Value(toml(value)));
        }
    }
    Ok(())
}

fn toml(given: Given) -> Value {
    match given {
        Given::Text(text) => Value::from(text),
        Given::Whole(number) => Value::from(number),
        Given::Number(number) => Value::from(number),
        Given::Truth(truth) => Value::from(truth),
        Given::List(items) => Value::Array(items.into_iter().map(toml).collect::<Array>()),
        Given::Table(fields) => {
            let mut table = InlineTable::new();
            for (key, value) in fields {
                table.insert(key, toml(value));
            }
            Value::InlineTable(table)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wire;

    const TEXT: &str = "# The head.\ntitle = \"t\" # of the job\n\n[run.a] # first\n\
        length = \"1 m\"   # with the tape\nair = \"40 degC\"\n\n# before b\n[run.b]\nfrom = \"x.y\"\n";

    fn edited(text: &str, path: &[&str], value: Option<&str>) -> Result<String, String> {
        set(text, &wire::edit_of(path, value))
    }

    #[test]
    fn a_key_changes_and_nothing_else_does() {
        let now = edited(TEXT, &["run", "a", "length"], Some("\"1.2 m\"")).unwrap();
        assert_eq!(now, TEXT.replace("1 m", "1.2 m"));
    }

    #[test]
    fn a_new_key_goes_to_the_end_of_its_table() {
        let now = edited(TEXT, &["run", "a", "limit"], Some("\"90 degC\"")).unwrap();
        assert_eq!(
            now,
            TEXT.replace("air = \"40 degC\"\n", "air = \"40 degC\"\nlimit = \"90 degC\"\n")
        );
        assert_eq!(edited(&now, &["run", "a", "limit"], None).unwrap(), TEXT);
    }

    #[test]
    fn a_new_table_is_written_as_one_would() {
        let now = edited(TEXT, &["surroundings", "air"], Some("\"50 degC\"")).unwrap();
        assert!(now.ends_with("\n[surroundings]\nair = \"50 degC\"\n"), "{now}");
        let now = edited(TEXT, &["run", "b", "to-end", "palm"], Some("\"bent\"")).unwrap();
        assert!(now.ends_with("[run.b.to-end]\npalm = \"bent\"\n"), "{now}");
    }

    #[test]
    fn numbers_truths_lists_and_tables() {
        let now = edited(TEXT, &["run", "a", "lengths"], Some("{\"U\": \"1 m\"}")).unwrap();
        assert!(now.contains("lengths = { U = \"1 m\" }"), "{now}");
        let now = edited(TEXT, &["run", "a", "lengths", "U"], Some("\"2 m\"")).unwrap();
        assert!(
            now.contains("[run.a.lengths]\nU = \"2 m\"") || now.contains("lengths.U"),
            "{now}"
        );
        let now = edited(TEXT, &["run", "a", "moves"], Some("true")).unwrap();
        assert!(now.contains("moves = true"), "{now}");
        let now = edited(TEXT, &["run", "a", "legs"], Some("[\"1 m\", \"2 m\"]")).unwrap();
        assert!(now.contains("legs = [\"1 m\", \"2 m\"]"), "{now}");
        let now = edited(&now, &["run", "a", "legs", "1"], Some("\"3 m\"")).unwrap();
        assert!(now.contains("legs = [\"1 m\", \"3 m\"]"), "{now}");
        assert!(edited(&now, &["run", "a", "legs", "7"], Some("\"3 m\"")).is_err());
    }

    #[test]
    fn lists_of_tables() {
        let text = "[[run.a.section]] # hot\nlength = \"1 m\"\n\n[[run.a.section]]\nlength = \"2 m\"\n";
        let now =
            edited(text, &["run", "a", "section", "1", "length"], Some("\"3 m\"")).unwrap();
        assert_eq!(now, text.replace("2 m", "3 m"));
        let now =
            edited(&now, &["run", "a", "section", "+", "air"], Some("\"9 degC\"")).unwrap();
        assert!(now.ends_with("[[run.a.section]]\nair = \"9 degC\"\n"), "{now}");
        let now = edited(&now, &["run", "a", "section", "0"], None).unwrap();
        assert!(!now.contains("hot"), "{now}");
    }

    #[test]
    fn what_cannot_be_done_is_said() {
        for (text, path) in [
            ("a = ", &["b"][..]),
            (TEXT, &[]),
            (TEXT, &["title", "x"]),
            (TEXT, &["", "x"]),
            (TEXT, &["run", "a"]),
        ] {
            assert!(edited(text, path, Some("1")).is_err(), "{path:?}");
        }
        assert_eq!(edited(TEXT, &["none", "x"], None).unwrap(), TEXT, "nothing to take away");
    }
}
