//! What is wrong with a document, shown where it stands: the line, a caret, a hint.

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use plan::given::document::{DocumentError, ERRORS_MAX};

use crate::disk::Sheet;

/// More errors than anyone reads at once.
const SHOWN_MAX: usize = 50;

/// All errors of a document as text.
pub(crate) fn show(sheet: &Sheet, errors: &[DocumentError], coloured: bool) -> String {
    let renderer = if coloured { Renderer::styled() } else { Renderer::plain() };
    let lines: Vec<&str> = sheet.text.split('\n').collect();
    let mut text = String::new();
    for error in errors.iter().take(SHOWN_MAX) {
        text.push_str(&one(&renderer, &sheet.name, &lines, error));
        text.push_str("\n\n");
    }
    if SHOWN_MAX < errors.len() {
        text.push_str(&format!("and {} more\n\n", errors.len() - SHOWN_MAX));
    }
    let count = match errors.len() {
        1 => "one error".to_owned(),
        n if ERRORS_MAX <= n => format!("{n} errors or more"),
        n => format!("{n} errors"),
    };
    text.push_str(&format!("{}: {count}, nothing was planned", sheet.name));
    text
}

fn one(renderer: &Renderer, name: &str, lines: &[&str], error: &DocumentError) -> String {
    let at = error.at;
    // Only the one line is given to the renderer: its work stays small however long the document is.
    let line = lines.get(at.line as usize - 1).copied().unwrap_or_default();
    let line = line.trim_end_matches('\r');
    let byte = |chars: usize| line.char_indices().nth(chars).map_or(line.len(), |(b, _)| b);
    let from = at.column as usize - 1;
    let span = byte(from)..byte(from + at.width as usize);
    let snippet = Snippet::source(line)
        .line_start(at.line as usize)
        .path(name)
        .annotation(AnnotationKind::Primary.span(span));
    let mut group = Level::ERROR.primary_title(error.message.as_str()).element(snippet);
    if let Some(hint) = &error.hint {
        group = group.element(Level::HELP.with_name("hint").message(hint.as_str()));
    }
    renderer.render(&[group])
}

#[cfg(test)]
mod tests {
    use super::*;
    use plan::given::document::read;

    fn shown(text: &str) -> String {
        let sheet = Sheet { name: "build.toml".to_owned(), text: text.to_owned() };
        show(&sheet, &read(text).errors, false)
    }

    #[test]
    fn an_error_has_its_line_a_caret_and_a_hint() {
        let text = shown("title = \"t\"\n[system]\nvoltage = 350\n");
        assert_eq!(
            text,
            "error: `voltage` is a voltage and needs its unit: V, kV or mV\n \
             --> build.toml:3:11\n  \
               |\n\
             3 | voltage = 350\n  \
               |           ^^^\n  \
               |\n  \
               = hint: write it in quotes, such as \"350 V\"\n\n\
             build.toml: one error, nothing was planned"
        );
    }

    #[test]
    fn odd_lines_are_shown_without_a_panic() {
        for text in [
            "",
            "\u{feff}x",
            "é = \u{1b}[31m\t\"\r\n",
            "[a\u{200d}]\n[a\u{200d}]",
            "\"\"\"a\nb",
        ] {
            assert!(shown(text).contains("error"), "{text:?}");
        }
        assert!(shown(&"x = 1\n".repeat(60)).contains("and 11 more"));
        assert!(shown(&format!("x = {}", "9".repeat(100_000))).len() < 20_000);
    }

    #[test]
    fn no_control_character_reaches_the_terminal() {
        let text = shown("title = \"\u{1b}[31mred\u{7}\"\n\u{1b}[2J = 3\n");
        assert!(!text.contains('\u{1b}') && !text.contains('\u{7}'), "{text:?}");
    }
}
