//! How text is set: quantities with their unit, widths, line breaks, and labels that do not touch.

use crate::svg::Type;

/// Advance widths of IBM Plex Sans Regular from space to tilde, thousandths of the body size.
#[rustfmt::skip]
const ADVANCE: [u16; 95] = [
    236, 284, 419, 713, 598, 927, 694, 242, 335, 335, 450, 600, 272, 399, 272, 383, 600, 600, 600,
    600, 600, 600, 600, 600, 600, 600, 292, 292, 600, 600, 600, 477, 891, 641, 653, 621, 671, 583,
    559, 695, 707, 400, 510, 634, 501, 812, 707, 708, 606, 708, 640, 581, 572, 678, 609, 891, 613,
    593, 580, 317, 383, 317, 600, 565, 600, 534, 580, 503, 580, 549, 324, 528, 568, 250, 250, 527,
    272, 873, 568, 560, 580, 580, 367, 487, 351, 568, 492, 768, 507, 499, 464, 343, 314, 343, 600,
];
/// Semi-bold letters are at most this much wider than regular ones on average.
const HEAVY: f64 = 1.05;
/// What a letter outside the table is taken for: as wide as most signs we print.
const OTHER: u16 = 720;

/// Units that are set closer than as typed: how they are typed, how they are set.
const UNITS: [(&str, &str); 36] = [
    ("degC", "°C"),
    ("degF", "°F"),
    ("N m", "N\u{a0}m"),
    ("lbf in", "lbf\u{a0}in"),
    ("lbf ft", "lbf\u{a0}ft"),
    ("mm2", "mm²"),
    ("A2s", "A²s"),
    ("kA2s", "kA²s"),
    ("us", "µs"),
    ("um", "µm"),
    ("W/m2K", "W/(m²K)"),
    ("ohm/km", "Ω/km"),
    ("uohm", "µΩ"),
    ("mohm", "mΩ"),
    ("kohm", "kΩ"),
    ("Mohm", "MΩ"),
    ("ohm", "Ω"),
    ("uT", "µT"),
    ("uF", "µF"),
    ("uH", "µH"),
    ("kg/km", "kg/km"),
    ("N/mm", "N/mm"),
    ("W/m", "W/m"),
    ("mm", "mm"),
    ("MPa", "MPa"),
    ("kA", "kA"),
    ("AWG", "AWG"),
    ("min", "min"),
    ("kg", "kg"),
    ("Hz", "Hz"),
    ("lbf", "lbf"),
    ("lb", "lb"),
    ("in", "in"),
    ("m", "m"),
    ("A", "A"),
    ("%", "%"),
];
/// More units that need no change but keep to their number.
const SINGLE: [&str; 7] = ["V", "N", "K", "J", "W", "s", "F"];

/// Typesetting of quantities: "113 degF" becomes "113 °F", and the number keeps to its unit.
///
/// Only what follows a number and a space is touched, so names of parts and codes stay as they are.
///
/// What stands between backticks is to be typed again, letter by letter, and stays as it is too.
pub fn typeset(text: &str) -> String {
    let pieces: Vec<&str> = text.split('`').collect();
    if pieces.len().is_multiple_of(2) {
        return set(text);
    }
    let set =
        |(i, piece): (usize, &&str)| if i % 2 == 0 { set(piece) } else { (*piece).to_owned() };
    pieces.iter().enumerate().map(set).collect::<Vec<_>>().join("`")
}

fn set(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let mut rest = text;
    while let Some(space) = rest.find(' ') {
        let (before, after) = rest.split_at(space);
        let after = &after[1..];
        out.push_str(before);
        let follows_number = before.ends_with(|c: char| c.is_ascii_digit());
        match follows_number.then(|| unit_at(after)).flatten() {
            Some((length, set)) => {
                out.push('\u{a0}');
                out.push_str(&set);
                rest = &after[length..];
            }
            None => {
                out.push(' ');
                rest = after;
            }
        }
    }
    out.push_str(rest);
    out
}

/// The unit that stands at the start of the text: how long it is as typed, and how it is set.
fn unit_at(text: &str) -> Option<(usize, String)> {
    let ends = |length: usize| !text[length..].starts_with(|c: char| c.is_alphanumeric());
    let known = UNITS.iter().find(|(typed, _)| text.starts_with(typed) && ends(typed.len()));
    if let Some((typed, set)) = known {
        return Some((typed.len(), (*set).to_owned()));
    }
    SINGLE
        .iter()
        .find(|unit| text.starts_with(**unit) && ends(unit.len()))
        .map(|unit| (unit.len(), (*unit).to_owned()))
}

/// Width in mm of one line of text.
pub fn width_mm(text: &str, kind: Type) -> f64 {
    let thousandths: u32 = text
        .chars()
        .map(|c| {
            // A space that does not break is as wide as one that does.
            let c = if c == '\u{a0}' { ' ' } else { c };
            let place = (c as u32).checked_sub(32).and_then(|i| ADVANCE.get(i as usize));
            u32::from(*place.unwrap_or(&OTHER))
        })
        .sum();
    let heavy = if kind.heavy { HEAVY } else { 1.0 };
    f64::from(thousandths) / 1000.0 * kind.size * heavy
}

/// The text broken at spaces so that each line is at most `room_mm` wide; a single longer word keeps
/// its own line.
pub fn wrap(text: &str, room_mm: f64, kind: Type) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|w| !w.is_empty()) {
        match lines.last_mut() {
            Some(line) if width_mm(&format!("{line} {word}"), kind) <= room_mm => {
                line.push(' ');
                line.push_str(word);
            }
            Some(_) | None => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Centres for boxes of these widths, each as near its wish as the others allow, in the order given,
/// `gap` apart, inside `from..to`.
///
/// The least squares answer: boxes that touch move as one block to the mean of their wishes.
pub fn spread(wishes: &[f64], widths: &[f64], gap: f64, from: f64, to: f64) -> Vec<f64> {
    assert_eq!(wishes.len(), widths.len(), "each box has a width");
    // Left edges relative to the sum of the boxes before: then "no overlap" is "never decreasing".
    let mut before = Vec::with_capacity(widths.len());
    let mut sum = 0.0;
    for width in widths {
        before.push(sum);
        sum += width + gap;
    }
    let room = (to - from - (sum - gap)).max(0.0);
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for i in 0..wishes.len() {
        let mut block = (wishes[i] - widths[i] / 2.0 - before[i] - from, 1);
        while let Some(&(mean, count)) = blocks.last() {
            if mean <= block.0 {
                break;
            }
            blocks.pop();
            let both = count + block.1;
            block = ((mean * count as f64 + block.0 * block.1 as f64) / both as f64, both);
        }
        blocks.push(block);
    }
    let flat = blocks.iter().flat_map(|&(mean, count)| std::iter::repeat_n(mean, count));
    flat.enumerate()
        .map(|(i, mean)| from + mean.clamp(0.0, room) + before[i] + widths[i] / 2.0)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::svg::SMALL;

    #[test]
    fn quantities_are_set_and_names_are_not() {
        assert_eq!(
            typeset("at 9.0 N m (80 lbf in), 113 degF"),
            "at 9.0\u{a0}N\u{a0}m (80\u{a0}lbf\u{a0}in), 113\u{a0}°F"
        );
        assert_eq!(typeset("70 mm2 cable"), "70\u{a0}mm² cable");
        assert_eq!(typeset("a degC of mm2"), "a degC of mm2");
        assert_eq!(typeset("2 meters"), "2 meters");
        let typed = "write `resistor 47 ohm`, not 47 ohm";
        assert_eq!(typeset(typed), "write `resistor 47 ohm`, not 47\u{a0}Ω");
        assert_eq!(typeset("0.42 mohm"), "0.42\u{a0}mΩ");
        assert_eq!(typeset("12 A and 3 V"), "12\u{a0}A and 3\u{a0}V");
    }

    #[test]
    fn widths_follow_the_font() {
        // "AB" of IBM Plex Sans Regular: 641 + 653 thousandths of the body size.
        assert!((width_mm("AB", SMALL.of_size(10.0)) - 12.94).abs() < 1e-9);
    }

    #[test]
    fn boxes_do_not_overlap_and_stay_inside() {
        let widths = [20.0, 20.0, 20.0, 10.0];
        let places = spread(&[5.0, 6.0, 7.0, 200.0], &widths, 2.0, 0.0, 100.0);
        assert!(places[0] - 10.0 >= -1e-9);
        for i in 1..4 {
            let apart = places[i] - places[i - 1];
            assert!(apart >= (widths[i] + widths[i - 1]) / 2.0 + 2.0 - 1e-9, "{places:?}");
        }
        assert!(places[3] + 5.0 <= 100.0 + 1e-9);
    }

    #[test]
    fn boxes_with_room_stay_where_they_wish() {
        assert_eq!(spread(&[20.0, 60.0], &[10.0, 10.0], 1.0, 0.0, 100.0), vec![20.0, 60.0]);
    }

    #[test]
    fn long_text_breaks_at_spaces() {
        let lines = wrap("one two three four", 12.0, SMALL);
        assert!(lines.len() > 1);
        assert_eq!(lines.join(" "), "one two three four");
    }
}
