//! Rust source as a row of tokens: enough to see names, paths, items and functions, and no more.
//!
//! A search in plain text was tried first: it finds `std::fs` in comments and strings and misses it in
//! `use std::{fs, io}`. A full parser would be the first dependency of this crate.

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A name, a keyword or a lifetime.
    Word,
    /// One character, or `::`.
    Mark,
    /// A string, character or number.
    Literal,
}

/// A token with the lines it stands on.
#[derive(Clone, Debug)]
pub(crate) struct Token {
    pub(crate) kind: Kind,
    pub(crate) text: String,
    pub(crate) line: usize,
    pub(crate) last_line: usize,
}

impl Token {
    pub(crate) fn is(&self, text: &str) -> bool {
        self.kind != Kind::Literal && self.text == text
    }

    pub(crate) fn is_word(&self) -> bool {
        self.kind == Kind::Word
    }
}

/// All tokens of a source, without comments.
pub(crate) fn tokens(source: &str) -> Vec<Token> {
    let mut lexer =
        Lexer { chars: source.chars().collect(), at: 0, line: 1, tokens: Vec::new() };
    while lexer.at < lexer.chars.len() {
        lexer.step();
    }
    lexer.tokens
}

/// The tokens that are built into the program: without items marked as tests.
pub(crate) fn program_tokens(source: &str) -> Vec<Token> {
    without_tests(&tokens(source))
}

struct Lexer {
    chars: Vec<char>,
    at: usize,
    line: usize,
    tokens: Vec<Token>,
}

impl Lexer {
    fn peek(&self, ahead: usize) -> char {
        self.chars.get(self.at + ahead).copied().unwrap_or('\0')
    }

    fn step(&mut self) {
        let (here, next) = (self.peek(0), self.peek(1));
        match here {
            '/' if next == '/' => self.skip_while(|c| c != '\n'),
            '/' if next == '*' => self.block_comment(),
            '"' => self.take(Kind::Literal, Lexer::string),
            '\'' => self.quote(),
            _ if here.is_whitespace() => self.advance(),
            _ if here.is_ascii_digit() => self.take(Kind::Literal, Lexer::number),
            _ if is_name(here) => self.name(),
            ':' if next == ':' => self.take(Kind::Mark, |lexer| lexer.at += 2),
            _ => self.take(Kind::Mark, Lexer::advance),
        }
    }

    fn advance(&mut self) {
        if self.peek(0) == '\n' {
            self.line += 1;
        }
        self.at += 1;
    }

    fn skip_while(&mut self, holds: impl Fn(char) -> bool) {
        while self.at < self.chars.len() && holds(self.peek(0)) {
            self.advance();
        }
    }

    fn take(&mut self, kind: Kind, read: impl FnOnce(&mut Lexer)) {
        let (start, line) = (self.at, self.line);
        read(self);
        let end = self.at.min(self.chars.len());
        let text = self.chars[start..end].iter().collect();
        self.tokens.push(Token { kind, text, line, last_line: self.line });
    }

    fn block_comment(&mut self) {
        let mut depth = 0;
        while self.at < self.chars.len() {
            match (self.peek(0), self.peek(1)) {
                ('/', '*') => depth += 1,
                ('*', '/') => depth -= 1,
                _ => {
                    self.advance();
                    continue;
                }
            }
            self.at += 2;
            if depth == 0 {
                return;
            }
        }
    }

    fn string(&mut self) {
        self.advance();
        while self.at < self.chars.len() && self.peek(0) != '"' {
            if self.peek(0) == '\\' {
                self.advance();
            }
            self.advance();
        }
        self.advance();
    }

    fn raw_string(&mut self) {
        self.skip_while(|c| c != '#' && c != '"');
        let start = self.at;
        self.skip_while(|c| c == '#');
        let hashes = self.at - start;
        self.advance();
        while self.at < self.chars.len() {
            let ends = self.peek(0) == '"' && (1..=hashes).all(|ahead| self.peek(ahead) == '#');
            self.advance();
            if ends {
                self.at += hashes;
                return;
            }
        }
    }

    /// A character or a lifetime: both begin with the same mark.
    fn quote(&mut self) {
        if self.peek(1) == '\\' {
            self.take(Kind::Literal, |lexer| {
                lexer.at += 3;
                lexer.skip_while(|c| c != '\'');
                lexer.advance();
            });
        } else if self.peek(2) == '\'' {
            self.take(Kind::Literal, |lexer| lexer.at += 3);
        } else {
            self.take(Kind::Word, |lexer| {
                lexer.at += 1;
                lexer.skip_while(is_name);
            });
        }
    }

    fn number(&mut self) {
        self.skip_while(is_name);
        if self.peek(0) == '.' && self.peek(1).is_ascii_digit() {
            self.advance();
            self.skip_while(is_name);
        }
    }

    /// A name, or a string with letters before its first quote.
    fn name(&mut self) {
        let length = self.chars[self.at..].iter().take_while(|c| is_name(**c)).count();
        let prefix: String = self.chars[self.at..self.at + length].iter().collect();
        match (prefix.as_str(), self.peek(length), self.peek(length + 1)) {
            ("r" | "br" | "cr", '"', _) | ("r" | "br" | "cr", '#', '"' | '#') => {
                self.take(Kind::Literal, Lexer::raw_string);
            }
            ("b" | "c", '"', _) => self.take(Kind::Literal, |lexer| {
                lexer.advance();
                lexer.string();
            }),
            _ => self.take(Kind::Word, |lexer| lexer.at += length),
        }
    }
}

fn is_name(c: char) -> bool {
    c == '_' || c.is_alphanumeric()
}

/// Drops what `#[test]` and `#[cfg(test)]` mark; all of it after `#![cfg(test)]`.
pub(crate) fn without_tests(tokens: &[Token]) -> Vec<Token> {
    let mut kept = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let inner = tokens.get(at + 1).is_some_and(|token| token.is("!"));
        let open = at + 1 + usize::from(inner);
        if !tokens[at].is("#") || !tokens.get(open).is_some_and(|token| token.is("[")) {
            kept.push(tokens[at].clone());
            at += 1;
            continue;
        }
        let end = close(tokens, open);
        if !marks_test(&tokens[open + 1..end]) {
            kept.extend_from_slice(&tokens[at..=end.min(tokens.len() - 1)]);
            at = end + 1;
        } else if inner {
            return kept;
        } else {
            at = item_end(tokens, end + 1);
        }
    }
    kept
}

fn marks_test(attribute: &[Token]) -> bool {
    let has = |word: &str| attribute.iter().any(|token| token.is(word));
    match attribute {
        [only] => only.is("test"),
        [first, ..] => first.is("cfg") && has("test") && !has("not"),
        [] => false,
    }
}

/// The index of the bracket that closes the one at `open`.
pub(crate) fn close(tokens: &[Token], open: usize) -> usize {
    let mut depth = 0usize;
    for (at, token) in tokens.iter().enumerate().skip(open) {
        if token.kind != Kind::Mark {
            continue;
        }
        match token.text.as_str() {
            "(" | "[" | "{" => depth += 1,
            ")" | "]" | "}" => depth = depth.saturating_sub(1),
            _ => continue,
        }
        if depth == 0 {
            return at;
        }
    }
    tokens.len()
}

/// The index after the item that starts at `at`, attributes of its own included.
fn item_end(tokens: &[Token], mut at: usize) -> usize {
    while tokens.get(at).is_some_and(|token| token.is("#")) {
        at = close(tokens, at + 1) + 1;
    }
    let mut ends_at_brace = true;
    while let Some(token) = tokens.get(at) {
        match token.text.as_str() {
            "use" | "static" | "type" | "let" if token.is_word() => ends_at_brace = false,
            "const" if token.is_word() => {
                ends_at_brace = tokens.get(at + 1).is_some_and(|next| next.is("fn"));
            }
            ";" if token.kind == Kind::Mark => return at + 1,
            "{" if token.kind == Kind::Mark && ends_at_brace => return close(tokens, at) + 1,
            "(" | "[" | "{" if token.kind == Kind::Mark => at = close(tokens, at),
            _ => {}
        }
        at += 1;
    }
    at
}

/// A function with the lines of code between its braces, as clippy counts them: neither blank lines
/// nor comments.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Function {
    pub(crate) name: String,
    pub(crate) line: usize,
    pub(crate) code_lines: usize,
}

/// All functions with a body, tests too.
pub(crate) fn functions(tokens: &[Token]) -> Vec<Function> {
    let mut found = Vec::new();
    for (at, pair) in tokens.windows(2).enumerate() {
        if !(pair[0].is("fn") && pair[1].is_word()) {
            continue;
        }
        let mut open = at + 2;
        while open < tokens.len() && !tokens[open].is("{") && !tokens[open].is(";") {
            let nested = tokens[open].is("(") || tokens[open].is("[");
            open = if nested { close(tokens, open) + 1 } else { open + 1 };
        }
        if tokens.get(open).is_some_and(|token| token.is("{")) {
            let body = &tokens[open + 1..close(tokens, open).max(open + 1)];
            let code_lines = lines_of(body);
            found.push(Function { name: pair[1].text.clone(), line: pair[0].line, code_lines });
        }
    }
    found
}

fn lines_of(body: &[Token]) -> usize {
    let mut last = 0;
    let mut count = 0;
    for token in body {
        let first = token.line.max(last + 1);
        if first <= token.last_line {
            count += token.last_line - first + 1;
            last = token.last_line;
        }
    }
    count
}

/// A path as written, each segment a word; `use` trees are spread out into one path a leaf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Written {
    pub(crate) segments: Vec<String>,
    /// The name it goes by here.
    pub(crate) name: String,
    pub(crate) line: usize,
    /// How many `mod name { ... }` of the same file stand around it.
    pub(crate) depth: usize,
}

/// Every path of two or more segments, and every leaf of every `use`.
pub(crate) fn paths(tokens: &[Token]) -> Vec<Written> {
    let mut found = Vec::new();
    let mut inline_ends: Vec<usize> = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        inline_ends.retain(|end| at < *end);
        let depth = inline_ends.len();
        if tokens[at].is("mod") && tokens.get(at + 2).is_some_and(|token| token.is("{")) {
            inline_ends.push(close(tokens, at + 2));
        }
        if tokens[at].is("use") {
            at = use_tree(tokens, at + 1, &Vec::new(), depth, &mut found);
        } else if tokens[at].is_word() && (at == 0 || !tokens[at - 1].is("::")) {
            at = plain_path(tokens, at, depth, &mut found);
        } else {
            at += 1;
        }
    }
    found
}

fn plain_path(tokens: &[Token], start: usize, depth: usize, found: &mut Vec<Written>) -> usize {
    let mut segments = vec![tokens[start].text.clone()];
    let mut at = start + 1;
    while at + 1 < tokens.len() && tokens[at].is("::") && tokens[at + 1].is_word() {
        segments.push(tokens[at + 1].text.clone());
        at += 2;
    }
    if segments.len() > 1 {
        let name = segments[segments.len() - 1].clone();
        found.push(Written { segments, name, line: tokens[start].line, depth });
    }
    at
}

/// Reads one branch of a `use` tree from `at`, and gives the index after it.
fn use_tree(
    tokens: &[Token],
    mut at: usize,
    stem: &[String],
    depth: usize,
    found: &mut Vec<Written>,
) -> usize {
    let mut segments = stem.to_vec();
    let mut line = tokens.get(at).map_or(0, |token| token.line);
    let mut name = None;
    while let Some(token) = tokens.get(at) {
        if token.is("{") {
            let end = close(tokens, at);
            at += 1;
            while at < end {
                at = use_tree(tokens, at, &segments, depth, found);
                at += usize::from(tokens.get(at).is_some_and(|token| token.is(",")));
            }
            return end + 1;
        }
        if token.is("as") {
            name = tokens.get(at + 1).map(|token| token.text.clone());
            at += 1;
        } else if token.is("self") && !segments.is_empty() {
            // `a::{self}` is `a` itself.
        } else if token.is_word() || token.is("*") {
            line = token.line;
            segments.push(token.text.clone());
        } else if !token.is("::") {
            break;
        }
        at += 1;
    }
    if let Some(last) = segments.last() {
        let name = name.unwrap_or_else(|| last.clone());
        found.push(Written { segments, name, line, depth });
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(source: &str) -> Vec<String> {
        program_tokens(source)
            .into_iter()
            .filter(|token| token.is_word())
            .map(|token| token.text)
            .collect()
    }

    #[test]
    fn comments_strings_and_characters_hide_their_words() {
        let source = r##"a // b
            /* c /* d */ e */ f "g \" h" r#"i " j"# 'k' '\'' b"l" 'm n 1.5e3 r"o""##;
        assert_eq!(words(source), ["a", "f", "'m", "n"]);
    }

    #[test]
    fn items_marked_as_tests_are_dropped_and_nothing_else() {
        let source = "
            #[cfg(test)] use a::{b, c};
            #[derive(Debug)] struct D;
            #[cfg(test)] mod e { fn f() {} }
            #[test] #[ignore] fn g() -> [u8; 2] { h }
            #[cfg(not(test))] fn i() {}
            #[cfg(test)] const J: K = K { l: 1 };
            #[cfg(test)] const fn m() {}
            n";
        assert_eq!(
            words(source),
            ["derive", "Debug", "struct", "D", "cfg", "not", "test", "fn", "i", "n"]
        );
        assert_eq!(words("a #![cfg(test)] b"), ["a"]);
    }

    #[test]
    fn a_function_is_as_long_as_its_lines_of_code() {
        let source = "fn a(x: [u8; 3])\n-> u8 {\n  // no\n\n  b();\n  c(\"d\ne\");\n}\nfn f();";
        let found = functions(&tokens(source));
        assert_eq!(found, [Function { name: "a".to_owned(), line: 1, code_lines: 3 }]);
    }

    #[test]
    fn use_trees_are_spread_out() {
        let source =
            "use std::{fs, io::{self, Read as R}};\nmod a { use super::b::*; }\nc::d::e(f);";
        let shown: Vec<String> = paths(&tokens(source))
            .iter()
            .map(|path| {
                let Written { segments, name, line, depth } = path;
                format!("{} {name} {line} {depth}", segments.join("::"))
            })
            .collect();
        let expected = [
            "std::fs fs 1 0",
            "std::io io 1 0",
            "std::io::Read R 1 0",
            "super::b::* * 2 1",
            "c::d::e e 3 0",
        ];
        assert_eq!(shown, expected);
    }
}
