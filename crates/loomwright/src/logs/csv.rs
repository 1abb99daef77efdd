//! A log as CSV: comma, semicolon or tab, decimal point or comma, UTF-8 or Latin-1, units in the head.

use std::io::{BufRead, Read};

use super::bins::Bins;
use super::{Trouble, Wanted, absent};

/// The longest head.
const HEAD_MAX: u64 = 1_000_000;

pub(super) fn read(
    mut input: impl BufRead,
    wanted: &mut [Wanted],
    bins: &mut Bins,
) -> Result<(), Trouble> {
    let mut head = Vec::new();
    Read::by_ref(&mut input).take(HEAD_MAX).read_until(b'\n', &mut head)?;
    let head = text(head.strip_prefix(b"\xef\xbb\xbf").unwrap_or(&head));
    let head = head.trim_end();
    let count = |c: char| head.matches(c).count();
    let separator = [';', '\t', ','].into_iter().max_by_key(|c| count(*c)).unwrap_or(',');
    let names: Vec<String> = head.split(separator).map(clean).collect();
    for one in wanted.iter_mut() {
        if let Some(at) = place(&names, &one.name.value) {
            one.found(unit(&names[at]));
        }
    }
    if let Some(trouble) = absent(wanted, names.iter().map(String::as_str), "column") {
        return Err(trouble);
    }
    let columns: Vec<(usize, usize)> = wanted
        .iter()
        .filter_map(|w| Some((w.quantity, place(&names, &w.name.value)?)))
        .collect();
    let Some((_, time)) = columns.iter().find(|(quantity, _)| *quantity == TIME) else {
        return Err(Trouble {
            wanted: None,
            message: "it is not said which column is the time".to_owned(),
            hint: Some("add time to columns: time = \"Time [s]\"".to_owned()),
        });
    };
    // Time is told in a unit of its own, and bins are in seconds.
    let time_unit = wanted.iter().find(|w| w.quantity == TIME).and_then(|w| w.unit.clone());
    let second = time_unit
        .and_then(|u| super::factor(&u, physics::units::Dimension::Time).ok())
        .unwrap_or(1.0);
    let mut reader = ::csv::ReaderBuilder::new()
        .delimiter(separator as u8)
        .has_headers(false)
        .flexible(true)
        .from_reader(input);
    let mut record = ::csv::ByteRecord::new();
    let comma = separator != ',';
    while reader.read_byte_record(&mut record).map_err(|e| Trouble::whole(e.to_string()))? {
        let Some(time_s) = record.get(*time).and_then(|c| number(c, comma)) else {
            bins.bad_row();
            continue;
        };
        for (quantity, at) in &columns {
            if *quantity == TIME {
                continue;
            }
            match record.get(*at).map(|cell| (cell, number(cell, comma))) {
                Some((_, Some(value))) => bins.put(*quantity, second * time_s, value),
                // A logger that has nothing new leaves the cell empty.
                Some((cell, None)) if cell.trim_ascii().is_empty() => {}
                _ => bins.bad_row(),
            }
        }
    }
    Ok(())
}

const TIME: usize = 0;

/// UTF-8, or Latin-1 where it is not.
fn text(bytes: &[u8]) -> String {
    match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => bytes.iter().map(|b| char::from(*b)).collect(),
    }
}

fn clean(name: &str) -> String {
    name.trim().trim_matches('"').trim().to_owned()
}

fn place(names: &[String], wanted: &str) -> Option<usize> {
    let exact = names.iter().position(|n| n == wanted);
    exact.or_else(|| names.iter().position(|n| n.eq_ignore_ascii_case(wanted)))
}

/// "Velocity [km/h]" and "Velocity (km/h)" tell their unit.
fn unit(name: &str) -> Option<String> {
    let open = name.rfind(['[', '('])?;
    let inside = name[open + 1..].trim_end().trim_end_matches([']', ')']).trim();
    (!inside.is_empty()).then(|| inside.to_owned())
}

fn number(cell: &[u8], comma: bool) -> Option<f64> {
    let cell = std::str::from_utf8(cell).ok()?.trim().trim_matches('"');
    let parsed = if comma && cell.contains(',') && !cell.contains('.') {
        cell.replace(',', ".").parse()
    } else {
        cell.parse()
    };
    parsed.ok().filter(|n: &f64| n.is_finite())
}

#[cfg(test)]
mod tests {
    use super::super::read_all;

    const COLUMNS: &[(&str, &str)] = &[("time", "Time [s]"), ("speed", "Velocity [km/h]")];

    #[test]
    fn the_usual_kinds_read_alike() {
        let comma = read_all(b"Time [s],Velocity [km/h]\n0,36\n1,72\n", None, COLUMNS).unwrap();
        assert_eq!((comma.time_s, comma.speed_m_s), (vec![0.0, 1.0], vec![10.0, 20.0]));
        // A semicolon, a decimal comma, Latin-1 in a column that is not wanted, quotes, a byte order mark.
        let other = b"\xef\xbb\xbf\"Time [s]\";Temp [\xb0C];Velocity [km/h]\r\n0;21,5;36,0\r\n1;;72,0\r\n";
        let other = read_all(other, None, COLUMNS).unwrap();
        assert_eq!((other.speed_m_s, other.rows_bad), (vec![10.0, 20.0], 0));
        let latin = b"Time [s]\tVelocity [km/h]\tT [\xb0C]\n0\t36\t1\n1\t72\t2\n";
        assert_eq!(read_all(latin, None, COLUMNS).unwrap().speed_m_s, [10.0, 20.0]);
    }

    #[test]
    fn mistakes_are_told() {
        let of = |text: &[u8], columns| read_all(text, None, columns).unwrap_err();
        assert!(of(b"a,b\n0,1\n1,2\n", COLUMNS).contains("no column `Time [s]`"));
        let bare = &[("time", "t"), ("speed", "v")];
        assert!(of(b"t,v\n0,1\n1,2\n", bare).contains("in which unit `t`"));
        let wrong = &[("time", "t [s]"), ("speed", "v [kg]")];
        assert!(of(b"t [s],v [kg]\n0,1\n1,2\n", wrong).contains("unit of a mass"));
        assert!(of(b"Time [s],Velocity [km/h]\n", COLUMNS).contains("fewer than two rows"));
        let bad = b"Time [s],Velocity [km/h]\n0,1\n1,oops\n2,3\nnan,4\n3,4\n";
        assert_eq!(read_all(bad, None, COLUMNS).unwrap().rows_bad, 2);
    }
}
