//! The faces as measured: what was read, how well it agrees, and where the holes are therefore.

use physics::units::number as digits;
use plan::design::survey::{SurveyedFace, SurveyedPhoto, SurveyedPoint, fine};

use crate::model::{Cell, Pages, Row, Tone, group, narrow, number, row, wide};
use crate::words::{Words, count, sentence};

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    if words.plan.faces.is_empty() {
        pages.text("No face is surveyed.");
    }
    for (i, face) in words.plan.faces.iter().enumerate() {
        let title = words.port(&face.port);
        if i == 0 {
            pages.heading(&title)
        } else {
            pages.page(&title)
        }
        one(words, face, pages);
    }
}

fn one(words: &Words<'_>, face: &SurveyedFace, pages: &mut Pages) {
    if let Some(title) = &face.title {
        pages.text(sentence(title));
    }
    for fault in &face.faults {
        pages.text(Cell::new(sentence(fault), Tone::Fails));
    }
    if let Some(unread) = &face.unread {
        let text = format!("Not in this plan: the file {unread}.");
        pages.text(Cell::new(text, Tone::Unknown));
    }
    agreement(words, face, pages);
    if let Some(drawing) = draw::face::face(face, words.units) {
        pages.figure(drawing, "Seen from outside.", "The face as surveyed, with its points");
    }
    places(words, face, pages);
    readings(words, face, pages);
    if let Some(photo) = &face.photo {
        photograph(words, photo, pages);
    }
}

/// Whether the readings agree, and what is wrong or missing if they do not.
fn agreement(words: &Words<'_>, face: &SurveyedFace, pages: &mut Pages) {
    let verdict = match (face.redundancy, face.consistent) {
        (0, _) => {
            Cell::new("nothing to compare: no reading is more than needed", Tone::Unknown)
        }
        (_, true) => Cell::new("agree", Tone::Holds),
        (_, false) => Cell::new("do not agree", Tone::Fails),
    };
    let chi = match face.chi_square_limit {
        Some(limit) => {
            format!("{}, at most {}", digits(face.chi_square, 1), digits(limit, 1))
        }
        None => digits(face.chi_square, 1),
    };
    let facts = vec![
        ("Readings", face.readings.len().to_string().into()),
        ("More than needed", face.redundancy.to_string().into()),
        ("The readings", verdict),
        ("Sum of weighted squares", chi.into()),
    ];
    pages.facts(2, facts);
    if let Some(suspect) = &face.suspect {
        let reading = &face.readings[suspect.reading];
        let should = format!(
            "{} plus or minus {}",
            fine(suspect.should_mm, words.units),
            fine(suspect.should_sigma_mm, words.units)
        );
        let cures = if suspect.cures {
            "without it the others agree"
        } else {
            "without it the others still do not agree"
        };
        pages.text(Cell::new(
            format!(
                "Read again: {}, which says {}; the others make it {should}, and {cures}.",
                reading.what,
                fine(reading.value_mm, words.units)
            ),
            Tone::Fails,
        ));
        let alike: Vec<&str> =
            suspect.alike.iter().map(|i| face.readings[*i].what.as_str()).collect();
        if !alike.is_empty() {
            pages.text(format!("As good a guess: {}.", alike.join(", ")));
        }
    }
    for (what, list) in
        [("Without a certain place", &face.loose), ("To read yet", &face.missing)]
    {
        if !list.is_empty() {
            let text = format!("{what}: {}.", list.join(", "));
            pages.text(Cell::new(text, Tone::Unknown));
        }
    }
}

/// Where every point is, and how surely.
fn places(words: &Words<'_>, face: &SurveyedFace, pages: &mut Pages) {
    let mut rows: Vec<Row> = Vec::new();
    let lists =
        [("Holes", &face.holes), ("Terminals", &face.terminals), ("Corners", &face.corners)];
    for (kind, list) in lists {
        if !list.is_empty() {
            rows.push(group(kind));
            rows.extend(list.iter().map(|point| place(words, point)));
        }
    }
    pages.minor("Places");
    let columns = vec![
        narrow("Point"),
        wide("x", 1.0),
        wide("y", 1.0),
        wide("Diameter", 1.0),
        wide("Sigma, worst way", 1.0),
    ];
    pages.table(columns, rows, "No point has a place yet");
}

fn place(words: &Words<'_>, point: &SurveyedPoint) -> Row {
    let size = |mm: f64| Cell::from(fine(mm, words.units));
    row([
        Cell::new(point.name.as_str(), Tone::Strong),
        size(point.x_mm),
        size(point.y_mm),
        point.diameter_mm.map_or_else(|| "".into(), size),
        point.sigma_mm.map_or_else(|| Cell::new("as stated", Tone::Quiet), size),
    ])
}

/// Every reading, and how far it is from what the fitted face would show.
fn readings(words: &Words<'_>, face: &SurveyedFace, pages: &mut Pages) {
    if face.readings.is_empty() {
        return;
    }
    pages.minor("Readings");
    pages.quiet(
        "Residual: reading less what the fitted face would show. In sigma of its own: beyond 3 is one in some \
         four hundred good readings.",
    );
    let suspect = face.suspect.as_ref().map(|s| s.reading);
    let rows = face.readings.iter().enumerate().map(|(i, reading)| {
        let tone = if suspect == Some(i) { Tone::Fails } else { Tone::Plain };
        row([
            Cell::new(reading.what.as_str(), tone),
            fine(reading.value_mm, words.units).into(),
            fine(reading.sigma_mm, words.units).into(),
            Cell::new(format!("{} mm", digits(reading.residual_mm, 3)), tone),
            match reading.normalised {
                Some(n) => Cell::new(digits(n, 1), tone),
                None => Cell::new("unchecked", Tone::Quiet),
            },
        ])
    });
    let columns = vec![
        wide("Reading", 1.5),
        wide("Read", 1.0),
        wide("Sigma", 1.0),
        number("Residual"),
        number("In sigma"),
    ];
    pages.small_table(columns, rows.collect(), "");
}

fn photograph(words: &Words<'_>, photo: &SurveyedPhoto, pages: &mut Pages) {
    pages.minor("Photograph");
    pages.text(format!(
        "{}, {} more than needed; residual {} px or {} in the mean.",
        count(photo.known.len(), "known point", "known points"),
        photo.redundancy,
        digits(photo.rms_px, 2),
        fine(photo.rms_mm, words.units)
    ));
    let rows = photo.known.iter().map(|known| {
        row([
            Cell::new(known.name.as_str(), Tone::Strong),
            format!("{} px", digits(known.residual_px, 2)).into(),
            fine(known.residual_mm, words.units).into(),
        ])
    });
    let columns = vec![narrow("Known point"), number("Residual"), wide("On the face", 1.0)];
    pages.table(columns, rows.collect(), "");
}
