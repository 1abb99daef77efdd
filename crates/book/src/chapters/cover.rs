//! The cover: what this is, how it came out, what is inside, who answers for it.

use physics::units::Dimension;
use plan::finding::Verdict;

use crate::model::{Block, Cell, Pages, Tone};
use crate::words::{Words, count, sentence};

pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let plan = words.plan;
    let heading = &plan.heading;
    let names: Vec<&str> = plan.devices.iter().map(|d| d.name.as_str()).collect();
    pages.blocks.push(Block::Cover { under: names.join(" · "), about: String::new() });
    pages.blocks.push(verdict(words));
    let stated = |text: &Option<String>| match text {
        Some(text) => Cell::from(text.as_str()),
        None => Cell::new("not stated", Tone::Quiet),
    };
    let volts = |v: Option<f64>| words.maybe(v, Dimension::Voltage);
    pages.facts(
        2,
        vec![
            ("Made by", stated(&heading.made_by)),
            ("Date", stated(&heading.date)),
            ("Plan digest", digest(&heading.digest)),
            ("Nominal voltage", volts(heading.voltage_v[0])),
            ("Highest voltage", volts(heading.voltage_v[1])),
            ("Altitude", format!("{:.0} m", heading.altitude_m).into()),
        ],
    );
    pages.blocks.push(Block::Contents);
    pages.caution(vec![
        "Traction voltage kills, and a charged capacitor bank looks the same as a discharged one. Isolate, \
         lock, wait, measure, and prove the meter before and after."
            .to_owned(),
        "Local codes, the makers' own documents and licensed practice come before anything printed here."
            .to_owned(),
    ]);
    let sign = ["Built by", "Checked by", "Date"];
    pages.blocks.push(Block::Sign { lines: sign.map(str::to_owned).to_vec() });
}

fn digest(digest: &str) -> Cell {
    Cell::new(digest.chars().take(12).collect::<String>(), Tone::Code)
}

/// The verdict in words. It compares with limits and says no more than that.
pub(crate) fn verdict(words: &Words<'_>) -> Block {
    let plan = words.plan;
    let number = |v: Verdict| plan.findings.iter().filter(|f| f.verdict == v).count();
    let (fails, unknown) = (number(Verdict::Fails), number(Verdict::Unknown));
    let (close, holds) = (number(Verdict::Close), number(Verdict::Holds));
    let tally = format!(
        "{}, {}, {}, {}",
        count(fails, "finding fails", "findings fail"),
        count(unknown, "cannot be judged", "cannot be judged"),
        count(close, "is close to its limit", "are close to their limit"),
        count(holds, "holds", "hold"),
    );
    let mut under = vec![tally];
    let worst = plan.findings.iter().filter(|f| match f.verdict {
        Verdict::Fails => true,
        Verdict::Unknown => f.safety,
        Verdict::Close | Verdict::Holds => false,
    });
    let worst: Vec<_> = worst.collect();
    under.extend(worst.iter().take(3).map(|f| sentence(&f.message)));
    if worst.len() > 3 {
        under.push(format!("And {} more in the chapter Findings.", worst.len() - 3));
    }
    let (tone, text) = if !plan.for_building() {
        let tone = if fails > 0 { Tone::Fails } else { Tone::Unknown };
        (tone, "Not for building")
    } else if plan.findings.is_empty() {
        (Tone::Unknown, "Nothing was judged")
    } else if unknown > 0 {
        (Tone::Close, "No rule is broken, some could not be judged")
    } else if close > 0 {
        (Tone::Close, "Every rule is kept, some only just")
    } else {
        (Tone::Holds, "Every rule is kept")
    };
    let under = under.iter().map(|line| Cell::from(line.as_str()).text).collect();
    Block::Verdict { tone, text: text.to_owned(), under }
}
