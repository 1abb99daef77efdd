//! `loomwright survey`: where the points of a face lie, from readings.

use std::path::PathBuf;

use anyhow::Result;
use physics::units::{System, number};
use plan::design::survey::{self, SurveyedFace, SurveyedPoint, fine};
use plan::finding::Notes;
use plan::given::face;

use crate::{Outcome, disk, errors, terminal, text, wire};

/// Work out a face: places of holes from readings, the bad reading, what to read yet
#[derive(clap::Args)]
#[command(after_help = "Example:\n  loomwright survey motor-face.toml\n  \
    loomwright survey motor-face.toml --json\n\n\
    Exit status: 0 all readings agree and hold every point, 1 they do not, 2 the file could not be read")]
pub(crate) struct Arguments {
    /// The face file
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

/// Solves and prints.
pub(crate) fn run(arguments: &Arguments) -> Result<Outcome> {
    let sheet = disk::read(&arguments.file)?;
    let (mut given, wrong) = face::read_file(&sheet.text);
    if !wrong.is_empty() {
        terminal::message(&errors::show(&sheet, &wrong, terminal::colour()));
        return Ok(Outcome::Unread);
    }
    for name in face::wanted(&given) {
        let drawing = disk::read(&disk::beside_document(&arguments.file, &name.value)?)?;
        let wrong = face::attach_to(&mut given, &name.value, &drawing.text);
        if !wrong.is_empty() {
            terminal::message(&errors::show(&drawing, &wrong, terminal::colour()));
            return Ok(Outcome::Unread);
        }
    }
    let mut notes = Notes::default();
    let solved = survey::one("", "face", &given, &mut notes);
    if arguments.json {
        terminal::result(&wire::text(&wire::survey(&solved)))?;
    } else {
        terminal::result(&shown(&solved, &notes))?;
    }
    let good = solved.consistent && solved.loose.is_empty() && solved.faults.is_empty();
    Ok(if good { Outcome::Holds } else { Outcome::Fails })
}

fn shown(face: &SurveyedFace, notes: &Notes) -> String {
    let mut parts = Vec::new();
    if let Some(title) = &face.title {
        parts.push(text::wrap(title, 0));
    }
    parts.push(verdict(face));
    parts.extend(points(face));
    parts.extend(photo(face));
    parts.extend(readings(face));
    let assumed: String = notes
        .assumed
        .iter()
        .map(|a| text::wrap(&format!("assumed: {}: {} ({})", a.what, a.value, a.why), 9))
        .collect();
    parts.push(assumed);
    parts.retain(|p| !p.is_empty());
    parts.join("\n")
}

/// What is wrong and what to do, or that all is well.
fn verdict(face: &SurveyedFace) -> String {
    let mut lines = Vec::new();
    for fault in &face.faults {
        lines.push(format!("fails: {fault}"));
    }
    if let Some(suspect) = &face.suspect {
        let reading = &face.readings[suspect.reading];
        lines.push(format!(
            "fails: {} was read as {}, and by the others it should be {}, standard deviation {} mm",
            reading.what,
            fine(reading.value_mm, System::Metric),
            fine(suspect.should_mm, System::Metric),
            number(suspect.should_sigma_mm, 2)
        ));
        let alike: Vec<&str> =
            suspect.alike.iter().map(|i| face.readings[*i].what.as_str()).collect();
        if !alike.is_empty() {
            lines.push(format!("as good a guess: {}", alike.join(", ")));
        }
        if !suspect.cures {
            lines.push("without it the others still do not agree".to_owned());
        }
    } else if !face.consistent {
        lines.push(
            "fails: the readings do not agree, and leaving out one does not cure it".to_owned(),
        );
    }
    if !face.loose.is_empty() {
        lines.push(format!("loose: {}", face.loose.join(", ")));
        if !face.missing.is_empty() {
            lines.push(format!("to read yet: {}", face.missing.join("; ")));
        }
    }
    if lines.is_empty() {
        lines.push(agreement(face));
    }
    lines.iter().map(|line| text::wrap(line, 2)).collect()
}

fn agreement(face: &SurveyedFace) -> String {
    match (face.readings.len(), face.chi_square_limit) {
        (0, _) => "all places are stated; nothing was read".to_owned(),
        (n, None) => format!(
            "{n} readings hold every point, and none is checked by another: a wrong one would not show"
        ),
        (n, Some(limit)) => format!(
            "{n} readings agree, {} more than needed: chi-square {}, at most {}",
            face.redundancy,
            number(face.chi_square, 1),
            number(limit, 1)
        ),
    }
}

fn points(face: &SurveyedFace) -> Option<String> {
    let kinds =
        [("hole", &face.holes), ("terminal", &face.terminals), ("corner", &face.corners)];
    let row = |kind: &str, p: &SurveyedPoint| {
        vec![
            p.name.clone(),
            kind.to_owned(),
            number(p.x_mm, 2),
            number(p.y_mm, 2),
            p.diameter_mm.map_or(String::new(), |d| number(d, 2)),
            p.sigma_mm.map_or("stated".to_owned(), |s| number(s, 3)),
        ]
    };
    let rows: Vec<Vec<String>> = kinds
        .into_iter()
        .flat_map(|(kind, points)| points.iter().map(move |p| row(kind, p)))
        .collect();
    let head = ["POINT", "", "X mm", "Y mm", "DIAMETER mm", "DEVIATION mm"];
    (!rows.is_empty()).then(|| text::table(&head, rows))
}

fn photo(face: &SurveyedFace) -> Option<String> {
    let photo = face.photo.as_ref()?;
    let rows = photo
        .known
        .iter()
        .map(|k| vec![k.name.clone(), number(k.residual_px, 2), number(k.residual_mm, 3)])
        .collect();
    let table = text::table(&["KNOWN IN THE PHOTOGRAPH", "OFF px", "OFF mm"], rows);
    let checked = match photo.redundancy {
        0 => "four known points fit any picture: click one more to check it".to_owned(),
        _ => format!(
            "root mean square {} pixels, {} mm",
            number(photo.rms_px, 2),
            number(photo.rms_mm, 3)
        ),
    };
    Some(format!("{table}{}", text::wrap(&checked, 0)))
}

fn readings(face: &SurveyedFace) -> Option<String> {
    let suspect = face.suspect.as_ref().map(|s| s.reading);
    let row = |(i, r): (usize, &survey::SurveyedReading)| {
        vec![
            r.what.clone(),
            number(r.value_mm, 2),
            number(r.sigma_mm, 2),
            format!("{:+.3}", r.residual_mm),
            r.normalised.map_or("unchecked".to_owned(), |w| format!("{w:+.1}")),
            if suspect == Some(i) { "<-" } else { "" }.to_owned(),
        ]
    };
    let rows: Vec<Vec<String>> = face.readings.iter().enumerate().map(row).collect();
    let head = ["READING", "READ mm", "DEVIATION", "RESIDUAL", "OVER ITS OWN", ""];
    (!rows.is_empty()).then(|| text::table(&head, rows))
}
