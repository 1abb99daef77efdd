//! The pages work out no engineering number: what they show comes from the program, ready.
//!
//! A page may say where on the screen a thing lies; that is arithmetic too, and it has its files, named below.
//! Everywhere else a name that carries a unit (`limit_c`, `cut_length_mm`) stands next to no operator, no
//! function of an engineer's is called, and no constant of nature or of conversion is written down. A number
//! smuggled through a name without a unit is not caught; reviews are for that.

use super::tree::{Offence, Tree};

/// Files that turn millimetres and degrees into places on the screen, and for what.
const VIEWS: &[(&str, &str)] = &[
    ("web/src/strip/", "the strip's own millimetres and degrees onto the screen"),
    ("web/src/three/", "the camera"),
    (
        "web/src/sheets/plates/",
        "a plate's outline as a path, and a pointer back to millimetres",
    ),
];

/// Generated, and all types.
const TYPES: &str = "web/src/wire.ts";

/// Functions by which numbers are worked out, not placed.
const FUNCTIONS: &[&str] = &[
    "sqrt", "cbrt", "pow", "exp", "expm1", "log", "log10", "log2", "log1p", "sin", "cos",
    "tan", "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh", "hypot", "PI", "E",
];

/// What a name ends in that carries a unit.
const UNITS: &[&str] = &[
    "mm", "m", "mm2", "c", "k", "a", "rms", "v", "w", "nm", "n", "mpa", "ohm", "s", "hz", "kg",
    "g", "j", "a2s", "f", "h", "hours",
];

/// Constants of nature and of conversion, as they are written.
const CONSTANTS: &[&str] = &[
    "9.81",
    "9.80665",
    "273.15",
    "459.67",
    "25.4",
    "0.0254",
    "304.8",
    "0.3048",
    "4.448",
    "4.44822",
    "0.453592",
    "0.45359237",
    "1.8",
    "8.314",
    "5.67e-8",
    "5.670374e-8",
    "1.2566e-6",
    "8.854e-12",
    "0.113",
    "0.1129848",
    "1.3558",
    "1.35582",
    "58e6",
    "1.68e-8",
    "1.72e-8",
    "0.00393",
    "0.000393",
];

/// Offences in the sources of the pages.
pub(crate) fn check(tree: &Tree) -> Vec<Offence> {
    let mut found = Vec::new();
    for end in [".ts", ".tsx"] {
        for (file, text) in tree.under("web/src/", end) {
            if file == TYPES {
                continue;
            }
            let is_view = VIEWS.iter().any(|(place, _)| file.starts_with(place));
            for (index, line) in code(text).lines().enumerate() {
                for message in offences(line, is_view) {
                    found.push(Offence::new(file, index + 1, message));
                }
            }
        }
    }
    found
}

fn offences(line: &str, is_view: bool) -> Vec<String> {
    let words = words(line);
    let mut found = Vec::new();
    for (i, (at, word)) in words.iter().enumerate() {
        let worked = worked_after(&line[at + word.len()..]) || worked_before(line, *at);
        // A line on the screen may be 1.8 wide; the others are nothing but what they are.
        if CONSTANTS.contains(word) && (worked || *word != "1.8") {
            found.push(format!("{word} is a constant of nature or conversion; the program converts and works out"));
        }
        if is_view {
            continue;
        }
        if *word == "Math" && words.get(i + 1).is_some_and(|(_, f)| FUNCTIONS.contains(f)) {
            let called = words[i + 1].1;
            found.push(format!(
                "Math.{called} works a number out; the program does that, and sends it"
            ));
        }
        let end = at + word.len();
        if carries_unit(word) && (worked_after(&line[end..]) || worked_before(line, *at)) {
            found.push(format!(
                "`{word}` is worked with; the program does that, and sends it with its text"
            ));
        }
    }
    found
}

fn carries_unit(word: &str) -> bool {
    let lower = word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
    lower && word.rsplit_once('_').is_some_and(|(_, unit)| UNITS.contains(&unit))
}

/// Whether what follows a name works with its value.
fn worked_after(rest: &str) -> bool {
    // What may stand between a value and its operator: that it is surely there, or a bracket's end.
    let rest = rest.trim_start_matches(['!', ')', ' ']);
    let mut chars = rest.chars();
    match (chars.next(), chars.next()) {
        (Some('+'), Some('+')) | (Some('-'), Some('-')) => true,
        // The end of a JSX element and an arrow are no operators.
        (Some('/'), Some('>')) | (Some('-'), Some('>')) => false,
        (Some('+' | '-' | '*' | '/' | '%'), _) => true,
        _ => false,
    }
}

/// Whether what stands before the whole of `a.b.name_mm` works with its value.
fn worked_before(line: &str, at: usize) -> bool {
    let part = |c: char| c.is_ascii_alphanumeric() || "_$.?![]".contains(c);
    let before = line[..at].trim_end_matches(part).trim_end_matches(['(', ' ']);
    let Some(last) = before.chars().last() else { return false };
    let earlier = before[..before.len() - last.len_utf8()].trim_end();
    match last {
        '*' | '%' => true,
        // A division or a sum has something before it; a sign, or the end of an opening tag, has not.
        '/' | '+' | '-' => {
            earlier.ends_with(|c: char| c.is_ascii_alphanumeric() || ")]_".contains(c))
        }
        _ => false,
    }
}

/// Names and numbers of a line, with where they begin.
fn words(line: &str) -> Vec<(usize, &str)> {
    let mut found = Vec::new();
    let mut start: Option<usize> = None;
    let bytes = line.as_bytes();
    for i in 0..=bytes.len() {
        let c = bytes.get(i).copied().unwrap_or(b' ');
        let number = start.is_some_and(|s| bytes[s].is_ascii_digit());
        let sign = c == b'-' && number && bytes[i - 1] == b'e';
        let inside = c.is_ascii_alphanumeric()
            || c == b'_'
            || c == b'$'
            || (number && c == b'.')
            || sign;
        match (inside, start) {
            (true, None) => start = Some(i),
            (false, Some(from)) => {
                found.push((from, &line[from..i]));
                start = None;
            }
            _ => {}
        }
    }
    found
}

/// The source with comments and strings blanked, lines kept; what a template works out stays.
fn code(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    // How deep in braces each open template's own code is.
    let mut templates: Vec<usize> = Vec::new();
    while let Some(c) = rest.chars().next() {
        let length = if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if rest.starts_with("/*") {
            rest.find("*/").map_or(rest.len(), |end| end + 2)
        } else if c == '"' || c == '\'' {
            string(rest, c)
        } else if c == '`' {
            template(&rest[1..], &mut templates) + 1
        } else if c == '}' && templates.last() == Some(&0) {
            templates.pop();
            template(&rest[1..], &mut templates) + 1
        } else {
            match (c, templates.last_mut()) {
                ('{', Some(depth)) => *depth += 1,
                ('}', Some(depth)) => *depth -= 1,
                _ => {}
            }
            out.push(c);
            rest = &rest[c.len_utf8()..];
            continue;
        };
        out.extend(rest[..length].chars().map(|c| if c == '\n' { '\n' } else { ' ' }));
        rest = &rest[length..];
    }
    out
}

/// How long a string is; an apostrophe of a page's words ends with its line and is none.
fn string(rest: &str, quote: char) -> usize {
    let mut escaped = false;
    for (i, c) in rest.char_indices().skip(1) {
        match c {
            '\n' => return 1,
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            _ if c == quote => return i + 1,
            _ => {}
        }
    }
    1
}

/// How much of a template comes before its code or its end.
fn template(rest: &str, templates: &mut Vec<usize>) -> usize {
    let mut escaped = false;
    for (i, c) in rest.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '`' => return i + 1,
            '$' if rest[i + 1..].starts_with('{') => {
                templates.push(0);
                return i + 2;
            }
            _ => {}
        }
    }
    rest.len()
}

#[cfg(test)]
mod tests {
    use super::super::tree::places;
    use super::*;

    fn caught(file: &str, source: &str) -> bool {
        !places(&check(&Tree::of(&[(file, source)]))).is_empty()
    }

    const SHEET: &str = "web/src/sheets/Heat.tsx";

    #[test]
    fn working_with_a_value_is_caught_however_it_is_written() {
        for source in [
            "const left = heat.limit_c - heat.conductor_c;",
            "const loss = i * i * cable.resistance_ohm;",
            "<p>{run.cut_length_mm / 1000} m</p>",
            "const text = `${heat.rating_a * 2} A`;",
            "const all = cuts.reduce((sum, c) => sum + c.length_mm, 0);",
            "const x = 2 * (heat!.air_c);",
            "const area = Math.PI * d;",
            "const side = Math.sqrt(area);",
            "const f = c * 1.8 + 32;",
            "const inch = width / 25.4;",
            "heat.rating_a! * 2",
        ] {
            assert!(caught(SHEET, source), "{source}");
        }
    }

    #[test]
    fn showing_and_comparing_are_free() {
        for source in [
            "if (heat.conductor_c > heat.limit_c) mark();",
            "<Number of={heat.limit_c} unit=\"degC\" />",
            "const rows = cuts.map((c) => c.length_mm);",
            "// limit_c - conductor_c",
            "const words = \"limit_c - conductor_c\";",
            "const words = `limit_c - ${name}`;",
            "<p>It's air_c - as measured</p>",
            "set({ path: [...at, \"x_mm\"], value: -place.x_mm });",
            "const next = (value_mm: number) => value_mm;",
            "const n = list.length - 1;",
        ] {
            let is_words = source.contains("It's");
            assert!(is_words || !caught(SHEET, source), "{source}");
        }
    }

    #[test]
    fn places_on_the_screen_have_their_files_and_no_constants_even_there() {
        let source = "const x = (at_mm - left_mm) * Math.exp(zoom);";
        assert!(!caught("web/src/strip/view.ts", source));
        assert!(caught("web/src/sheets/Kit.tsx", source));
        assert!(caught("web/src/strip/view.ts", "const inches = x / 25.4;"));
        assert!(!caught(TYPES, source) && !caught("web/tests/a.ts", source));
    }

    #[test]
    fn lines_are_kept() {
        let source = "/* a\nb */\nconst s = `x\n${y}\nz`;\nconst a = b_mm * 2;\n";
        assert_eq!(
            places(&check(&Tree::of(&[(SHEET, source)]))),
            ["web/src/sheets/Heat.tsx:6"]
        );
    }
}
