//! The pages before they are set: typed, in reading order, all numbers already text.
//!
//! Chapters make these from a plan and are tested as text ([`Book::text`]); the templates only lay them out.

use draw::letters::typeset;
use serde::Serialize;

/// A day as the build states it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Day {
    /// Year.
    pub year: i32,
    /// Month from 1.
    pub month: u8,
    /// Day from 1.
    pub day: u8,
}

/// The paper it is printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Paper {
    /// ISO A4.
    A4,
    /// US letter.
    UsLetter,
}

/// The whole book.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Book {
    /// Paper size.
    pub paper: Paper,
    /// Title of the build.
    pub title: String,
    /// Who made it; empty if not stated.
    pub author: String,
    /// The day the build states, if it is one of the calendar.
    pub date: Option<Day>,
    /// The day as the build writes it.
    pub day: String,
    /// Digest of the build, for the foot of every page and the identity of the file.
    pub digest: String,
    /// What is stamped across every page, and why in a few words.
    pub stamp: Option<Stamp>,
    /// The chapters in page order.
    pub chapters: Vec<Chapter>,
    /// The drawings, named by their place.
    #[serde(skip)]
    pub figures: Vec<String>,
}

/// Why the book must not be built from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Stamp {
    /// Across the page.
    pub word: String,
    /// Beside the page's head.
    pub why: String,
}

/// One chapter.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Chapter {
    /// The word that asks for it alone: "kit".
    pub id: &'static str,
    /// Its heading; the cover has none.
    pub title: String,
    /// Starts a new page.
    pub new_page: bool,
    /// What stands in it.
    pub blocks: Vec<Block>,
}

/// How a word is coloured; the word itself always says the same.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Tone {
    /// Ordinary text.
    #[default]
    Plain,
    /// A rule is broken.
    Fails,
    /// Cannot be judged.
    Unknown,
    /// Near its limit.
    Close,
    /// Kept.
    Holds,
    /// Small print.
    Quiet,
    /// Semi-bold.
    Strong,
    /// Code of a finding, a digest, a key of the document.
    Code,
    /// A box to tick.
    Tick,
}

/// A piece of text with its tone.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Cell {
    /// The text.
    pub text: String,
    /// Its tone.
    pub tone: Tone,
    /// Lines under it.
    pub under: Vec<Cell>,
    /// How many columns it takes.
    pub span: usize,
}

impl Cell {
    /// Text in a tone.
    pub fn new(text: impl Into<String>, tone: Tone) -> Cell {
        Cell { text: soften(&typeset(&text.into())), tone, under: Vec::new(), span: 1 }
    }

    /// Text that is to be typed again as it stands, such as a name in the build.
    pub fn verbatim(text: &str, tone: Tone) -> Cell {
        Cell { text: soften(text), tone, under: Vec::new(), span: 1 }
    }

    /// A box to tick.
    pub fn tick() -> Cell {
        Cell { text: "[ ]".to_owned(), tone: Tone::Tick, under: Vec::new(), span: 1 }
    }

    /// What the build does not say.
    pub fn unknown() -> Cell {
        Cell::new("not known", Tone::Unknown)
    }

    /// The same with a line under it; an empty one adds nothing.
    pub fn under(mut self, line: impl Into<Cell>) -> Cell {
        let line = line.into();
        if !line.text.is_empty() {
            self.under.push(line);
        }
        self
    }

    /// The same over several columns.
    pub fn over(self, columns: usize) -> Cell {
        Cell { span: columns, ..self }
    }

    /// All its words on one line.
    fn words(&self) -> String {
        let mut words = self.text.clone();
        for line in &self.under {
            words.push_str(" / ");
            words.push_str(&line.words());
        }
        words
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Cell {
        Cell::new(text, Tone::Plain)
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Cell {
        Cell::new(text, Tone::Plain)
    }
}

/// How a column is set.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Column {
    /// Its head.
    pub title: String,
    /// Share of the width; zero: as wide as its text.
    pub share: f64,
    /// Numbers stand at the right.
    pub right: bool,
}

/// A column of words that takes a share of the width.
pub fn wide(title: &str, share: f64) -> Column {
    Column { title: title.to_owned(), share, right: false }
}

/// A column as wide as its text.
pub fn narrow(title: &str) -> Column {
    Column { title: title.to_owned(), share: 0.0, right: false }
}

/// A column of numbers.
pub fn number(title: &str) -> Column {
    Column { title: title.to_owned(), share: 0.0, right: true }
}

/// One row of a table.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Row {
    /// A heading across all columns.
    Group {
        /// The heading.
        text: String,
    },
    /// The cells.
    Cells {
        /// One for each column.
        cells: Vec<Cell>,
    },
}

/// How large a table is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Print {
    /// To be worked with.
    Normal,
    /// To be looked up.
    Small,
}

/// What stands on the pages.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Block {
    /// The cover's own head: what this is.
    Cover {
        /// Under the title.
        under: String,
        /// The vehicle or purpose, or empty.
        about: String,
    },
    /// The verdict, large.
    Verdict {
        /// Its colour.
        tone: Tone,
        /// The words.
        text: String,
        /// Why, one line each.
        under: Vec<String>,
    },
    /// Where each chapter starts.
    Contents,
    /// A heading within a chapter.
    Heading {
        /// Its text.
        text: String,
        /// Starts a new page.
        new_page: bool,
    },
    /// A small heading outside the outline.
    Minor {
        /// Its text.
        text: String,
    },
    /// A paragraph.
    Text {
        /// The text.
        cell: Cell,
    },
    /// Names and values, in one or two columns.
    Facts {
        /// Name and value.
        rows: Vec<(String, Cell)>,
        /// One or two.
        columns: u8,
    },
    /// A table that breaks over pages.
    Table {
        /// Its columns.
        columns: Vec<Column>,
        /// Its rows.
        rows: Vec<Row>,
        /// Stated in place of the rows when there are none.
        empty: String,
        /// How large it is printed.
        print: Print,
        /// Whether it is too short to be parted.
        whole: bool,
    },
    /// Blocks that stand on one page, under the chapter's heading if it is theirs.
    Together {
        /// The chapter's heading, or empty.
        heading: String,
        /// What stands together.
        blocks: Vec<Block>,
    },
    /// A drawing at its own size.
    Figure {
        /// Fixed file name.
        file: String,
        /// Its own width.
        width_mm: f64,
        /// Under it.
        caption: String,
        /// Read out in place of it.
        alt: String,
    },
    /// A sheet of a drawing on a page of its own, as large as the page allows.
    Sheet {
        /// Fixed file name.
        file: String,
        /// Whether it is wider than high, so that the page is turned.
        turned: bool,
        /// Under it.
        caption: String,
        /// Read out in place of it.
        alt: String,
    },
    /// A caution where the hand is about to act.
    Caution {
        /// The cautions.
        lines: Vec<String>,
    },
    /// One thing the assembler does.
    Step(Step),
    /// One test with its blanks.
    Trial(Trial),
    /// Lines to sign on.
    Sign {
        /// What each line is for.
        lines: Vec<String>,
    },
}

/// What the assembler does: one step, or several in a row that differ only in which cable or end they are of.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Step {
    /// Each with its own box to tick.
    pub items: Vec<StepItem>,
    /// Where.
    pub place: String,
    /// How, a paragraph each.
    pub text: Vec<String>,
    /// Tools with their size.
    pub tools: Vec<String>,
    /// Torque in both systems, or empty.
    pub torque: String,
    /// Why the order matters, each reason with the steps it is of where it is not of all.
    pub why: String,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// One step of a block of them.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StepItem {
    /// Its number.
    pub number: String,
    /// What is done.
    pub title: String,
    /// How, where it differs from its neighbours.
    pub text: String,
    /// Parts with their count.
    pub parts: String,
    /// The steps that must be done before, or empty.
    pub after: String,
}

/// What is tested in one way, with a row for each reading.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Trial {
    /// What is tested.
    pub title: String,
    /// How the meter is connected and read.
    pub text: String,
    /// Key of the source.
    pub source: String,
    /// Readings.
    pub readings: Vec<Reading>,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// One reading to take.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reading {
    /// Its number.
    pub number: String,
    /// What is read.
    pub what: String,
    /// Its limit.
    pub limit: String,
}

/// The file name of a drawing by its place.
pub fn figure_name(index: usize) -> String {
    format!("fig{}.svg", index + 1)
}

/// Pages under way: blocks, and the drawings they show.
#[derive(Clone, Debug, Default)]
pub struct Pages {
    /// Blocks so far.
    pub blocks: Vec<Block>,
    figures: Vec<String>,
    first_figure: usize,
}

impl Pages {
    /// Empty pages whose first drawing takes the next free name.
    pub fn after(figures: usize) -> Pages {
        Pages { blocks: Vec::new(), figures: Vec::new(), first_figure: figures }
    }

    /// The drawings made.
    pub fn into_parts(self) -> (Vec<Block>, Vec<String>) {
        (self.blocks, self.figures)
    }

    /// A heading that the outline shows.
    pub fn heading(&mut self, text: &str) {
        self.blocks.push(Block::Heading { text: typeset(text), new_page: false });
    }

    /// A heading at the head of a new page.
    pub fn page(&mut self, text: &str) {
        self.blocks.push(Block::Heading { text: typeset(text), new_page: true });
    }

    /// A small heading.
    pub fn minor(&mut self, text: &str) {
        self.blocks.push(Block::Minor { text: typeset(text) });
    }

    /// A paragraph.
    pub fn text(&mut self, text: impl Into<Cell>) {
        self.blocks.push(Block::Text { cell: text.into() });
    }

    /// A paragraph of small print.
    pub fn quiet(&mut self, text: &str) {
        self.blocks.push(Block::Text { cell: Cell::new(text, Tone::Quiet) });
    }

    /// Names and values.
    pub fn facts(&mut self, columns: u8, rows: Vec<(&str, Cell)>) {
        let rows = rows.into_iter().map(|(name, cell)| (name.to_owned(), cell)).collect();
        self.blocks.push(Block::Facts { rows, columns });
    }

    /// A table; every row must have a cell for each column.
    pub fn table(&mut self, columns: Vec<Column>, rows: Vec<Row>, empty: &str) {
        self.printed(columns, rows, empty, Print::Normal);
    }

    /// The same in small type, for what is looked up and not read through.
    pub fn small_table(&mut self, columns: Vec<Column>, rows: Vec<Row>, empty: &str) {
        self.printed(columns, rows, empty, Print::Small);
    }

    fn printed(&mut self, columns: Vec<Column>, rows: Vec<Row>, empty: &str, print: Print) {
        for row in &rows {
            if let Row::Cells { cells } = row {
                let over: usize = cells.iter().map(|cell| cell.span).sum();
                assert_eq!(over, columns.len(), "a cell for each column");
            }
        }
        let whole = is_short(&rows);
        self.blocks.push(Block::Table { columns, rows, empty: empty.to_owned(), print, whole });
    }

    /// A drawing.
    pub fn figure(&mut self, drawing: draw::Drawing, caption: &str, alt: &str) {
        let (width_mm, file) = (drawing.width_mm, self.keep(drawing));
        self.blocks.push(Block::Figure {
            file,
            width_mm,
            caption: typeset(caption),
            alt: alt.to_owned(),
        });
    }

    /// A sheet of a drawing, on a page of its own.
    pub fn sheet(&mut self, drawing: draw::Drawing, caption: &str, alt: &str) {
        let (turned, file) = (drawing.width_mm > drawing.height_mm, self.keep(drawing));
        self.blocks.push(Block::Sheet {
            file,
            turned,
            caption: typeset(caption),
            alt: alt.to_owned(),
        });
    }

    /// Keeps what was written since `first` on one page, under this heading; whoever asks knows that it fits one.
    pub fn together(&mut self, first: usize, heading: &str) {
        let blocks = self.blocks.split_off(first);
        self.blocks.push(Block::Together { heading: typeset(heading), blocks });
    }

    /// Keeps a drawing under the next free name.
    fn keep(&mut self, drawing: draw::Drawing) -> String {
        let file = figure_name(self.first_figure + self.figures.len());
        self.figures.push(drawing.svg);
        file
    }

    /// A box of cautions.
    pub fn caution(&mut self, lines: Vec<String>) {
        if !lines.is_empty() {
            let lines = lines.iter().map(|line| soften(&typeset(line))).collect();
            self.blocks.push(Block::Caution { lines });
        }
    }
}

/// Whether a table fits what is left of most pages, so that it need not be parted.
fn is_short(rows: &[Row]) -> bool {
    let letters = |cell: &Cell| cell.words().chars().count();
    let longest = |row: &Row| match row {
        Row::Group { .. } => 0,
        Row::Cells { cells } => cells.iter().map(letters).max().unwrap_or(0),
    };
    rows.len() <= 8 && rows.iter().map(longest).sum::<usize>() <= 600
}

/// A row of cells.
pub fn row(cells: impl IntoIterator<Item = Cell>) -> Row {
    Row::Cells { cells: cells.into_iter().collect() }
}

/// A heading across a table.
pub fn group(text: &str) -> Row {
    Row::Group { text: typeset(text) }
}

/// The longest run of letters without a place to break; longer ones would leave their column.
const UNBROKEN: usize = 18;

/// Text with invisible break places in words that are longer than a column.
pub fn soften(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut run = 0;
    let mut before = ' ';
    for c in text.chars() {
        // Keys of the document break after their dots, which numbers do not.
        if matches!(before, '.' | '_' | '/') && c.is_alphabetic() && run > 6 {
            out.push('\u{200b}');
            run = 0;
        }
        before = c;
        if c.is_whitespace() || c == '-' {
            run = 0;
        } else if run == UNBROKEN {
            out.push('\u{200b}');
            run = 1;
        } else {
            run += 1;
        }
        out.push(c);
    }
    out
}

/// Text as a reader hears it: spaces plain, break places gone.
pub fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ").replace('\u{200b}', "")
}

impl Book {
    /// All words in page order, one line for each piece; what the tests read.
    pub fn text(&self) -> String {
        let mut lines = vec![format!("# {}", self.title)];
        if let Some(stamp) = &self.stamp {
            lines.push(format!("[{}: {}]", stamp.word, stamp.why));
        }
        for chapter in &self.chapters {
            lines.push(format!("## {}", chapter.title));
            for block in &chapter.blocks {
                block.lines(&mut lines);
            }
        }
        plain(&lines.join("\n"))
    }
}

impl Block {
    fn lines(&self, lines: &mut Vec<String>) {
        match self {
            Block::Cover { under, about } => lines.extend([under.clone(), about.clone()]),
            Block::Verdict { text, under, .. } => {
                lines.push(format!("VERDICT {text}"));
                lines.extend(under.iter().cloned());
            }
            Block::Contents => lines.push("[contents]".to_owned()),
            Block::Heading { text, .. } => lines.push(format!("### {text}")),
            Block::Minor { text } => lines.push(format!("#### {text}")),
            Block::Text { cell } => lines.push(cell.words()),
            Block::Facts { rows, .. } => {
                lines.extend(
                    rows.iter().map(|(name, cell)| format!("{name}: {}", cell.words())),
                );
            }
            Block::Table { columns, rows, empty, .. } => {
                table_lines(columns, rows, empty, lines);
            }
            Block::Figure { file, caption, .. } | Block::Sheet { file, caption, .. } => {
                lines.push(format!("[{file}] {caption}"))
            }
            Block::Caution { lines: cautions } => {
                lines.extend(cautions.iter().map(|text| format!("! {text}")));
            }
            Block::Step(step) => step.lines(lines),
            Block::Trial(trial) => trial.lines(lines),
            Block::Together { heading, blocks } => {
                if !heading.is_empty() {
                    lines.push(format!("## {heading}"));
                }
                for block in blocks {
                    block.lines(lines);
                }
            }
            Block::Sign { lines: what } => {
                lines.extend(what.iter().map(|text| format!("{text}: ____")));
            }
        }
    }
}

fn table_lines(columns: &[Column], rows: &[Row], empty: &str, lines: &mut Vec<String>) {
    let heads: Vec<&str> = columns.iter().map(|c| c.title.as_str()).collect();
    lines.push(format!("| {} |", heads.join(" | ")));
    for row in rows {
        match row {
            Row::Group { text } => lines.push(format!("|= {text}")),
            Row::Cells { cells } => {
                let texts: Vec<String> = cells.iter().map(Cell::words).collect();
                lines.push(format!("| {} |", texts.join(" | ")));
            }
        }
    }
    if rows.is_empty() {
        lines.push(empty.to_owned());
    }
}

impl Step {
    fn lines(&self, lines: &mut Vec<String>) {
        for item in &self.items {
            lines.push(format!("[ ] {} {} ({})", item.number, item.title, self.place));
            for (name, text) in
                [("how", &item.text), ("parts", &item.parts), ("after", &item.after)]
            {
                if !text.is_empty() {
                    lines.push(format!("{name}: {text}"));
                }
            }
        }
        lines.extend(self.cautions.iter().map(|text| format!("! {text}")));
        lines.extend(self.text.iter().cloned());
        lines.extend(self.tools.iter().map(|tool| format!("tool: {tool}")));
        if !self.torque.is_empty() {
            lines.push(format!("torque: {}", self.torque));
        }
        if !self.why.is_empty() {
            lines.push(format!("why: {}", self.why));
        }
    }
}

impl Trial {
    fn lines(&self, lines: &mut Vec<String>) {
        lines.push(self.title.clone());
        lines.extend(self.cautions.iter().map(|text| format!("! {text}")));
        lines.push(self.text.clone());
        lines.push(format!("source: {}", self.source));
        for reading in &self.readings {
            lines.push(format!(
                "[ ] {} {}: {}: ____",
                reading.number, reading.what, reading.limit
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_words_can_break() {
        let word = "x".repeat(100);
        let soft = soften(&word);
        assert!(soft.split('\u{200b}').all(|part| part.chars().count() <= UNBROKEN));
        assert_eq!(plain(&soft), word);
        assert_eq!(soften("short words, 12.5 mm"), "short words, 12.5 mm");
        assert_eq!(soften("device.inverter.port"), "device.\u{200b}inverter.\u{200b}port");
    }
}
