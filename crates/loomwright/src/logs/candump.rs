//! A candump: one frame a line, `(1436509052.249713) can0 044#2A366C2BBA`.
//!
//! Also console lines `(000.000194) can0 RX - - 07A [8] 62 94`, CAN FD `123##1...`, remote frames and what newer
//! versions append. Lines that are none of these count as bad.

use std::io::{BufRead, Read};

use super::bins::Bins;
use super::dbc::Dbc;
use super::{Trouble, Wanted, absent};

/// The longest line.
const LINE_MAX: u64 = 4096;
/// How a DBC file marks a 29-bit frame.
const LONG: u32 = 0x8000_0000;

pub(super) fn read(
    mut input: impl BufRead,
    dbc: &Dbc,
    wanted: &mut [Wanted],
    bins: &mut Bins,
) -> Result<(), Trouble> {
    let mut asked: Vec<(usize, usize)> = Vec::new();
    for one in wanted.iter_mut() {
        if let Some(at) = dbc.find(&one.name.value) {
            one.found(Some(dbc.signals[at].unit.clone()));
            asked.push((one.quantity, at));
        }
    }
    if let Some(trouble) = absent(wanted, dbc.signals.iter().map(|s| s.name.as_str()), "signal")
    {
        return Err(trouble);
    }
    let mut line = Vec::new();
    loop {
        line.clear();
        if Read::by_ref(&mut input).take(LINE_MAX).read_until(b'\n', &mut line)? == 0 {
            return Ok(());
        }
        let text = String::from_utf8_lossy(&line);
        let text = text.trim();
        if text.is_empty() {
            continue;
        }
        let Some(frame) = frame(text) else {
            bins.bad_row();
            continue;
        };
        for (quantity, at) in &asked {
            let signal = &dbc.signals[*at];
            if signal.frame == frame.id
                && let Some(value) = dbc.value(signal, &frame.data)
            {
                bins.put(*quantity, frame.time_s, value);
            }
        }
    }
}

struct Frame {
    time_s: f64,
    id: u32,
    data: Vec<u8>,
}

fn frame(text: &str) -> Option<Frame> {
    let (stamp, rest) = text.strip_prefix('(')?.split_once(')')?;
    let time_s = stamp.trim().parse().ok().filter(|t: &f64| t.is_finite())?;
    let words: Vec<&str> = rest.split_whitespace().collect();
    if let Some(word) = words.get(1).filter(|w| w.contains('#')) {
        let (id, data) = word.split_once('#')?;
        let data = match data.strip_prefix('#') {
            // CAN FD: one digit of flags before the bytes.
            Some(flexible) => flexible.get(1..)?,
            None if data.starts_with(['R', 'r']) => "",
            None => data,
        };
        return Some(Frame { time_s, id: frame_id(id)?, data: bytes(data)? });
    }
    let count = words.iter().position(|w| w.starts_with('['))?;
    let id = frame_id(words.get(count.checked_sub(1)?)?)?;
    let data = words[count + 1..]
        .iter()
        .map_while(|w| u8::from_str_radix(w, 16).ok().filter(|_| w.len() == 2))
        .collect();
    Some(Frame { time_s, id, data })
}

fn frame_id(text: &str) -> Option<u32> {
    let id = u32::from_str_radix(text, 16).ok()?;
    match text.len() {
        3 => Some(id),
        8 => Some(id & 0x1fff_ffff | LONG),
        _ => None,
    }
}

fn bytes(text: &str) -> Option<Vec<u8>> {
    let text = text.replace('.', "");
    if !text.len().is_multiple_of(2) || !text.is_ascii() {
        return None;
    }
    (0..text.len()).step_by(2).map(|i| u8::from_str_radix(&text[i..i + 2], 16).ok()).collect()
}

#[cfg(test)]
mod tests {
    use super::super::read_all;

    const DBC: &str = r#"
BO_ 291 Drive: 8 ECU
 SG_ Torque : 0|16@1- (0.5,0) [0|0] "Nm" X
 SG_ Rpm : 16|16@1+ (1,0) [0|0] "rpm" X
BO_ 2147484048 Long: 8 ECU
 SG_ Volts : 0|16@1+ (0.1,0) [0|0] "V" X
"#;

    #[test]
    fn frames_of_every_kind() {
        let text = "(1436509052.000000) can0 123#C800B80B\n\
            (1436509052.500000) can0 00000190#AC0D R\n\
            (1436509053.000000) vcan0.1 123##1C800B80B\n\
            (1436509053.100000) can0 123#\n\
            (1436509053.200000) can0 123#R8\n\
            (1436509054.000000) can0  RX - -  123   [4]  90 01 B8 0B\n\
            nonsense\n";
        let columns =
            [("torque", "Torque"), ("motor-speed", "Drive.Rpm"), ("dc-voltage", "Volts")];
        let log = read_all(text.as_bytes(), Some(DBC), &columns).unwrap();
        assert_eq!(log.torque_nm.first(), Some(&100.0));
        assert_eq!(log.torque_nm.last(), Some(&200.0));
        assert!(log.speed_rpm.iter().all(|n| *n == 3000.0));
        assert!(log.dc_v.iter().all(|v| (v - 350.0).abs() < 1e-9));
        assert_eq!(log.rows_bad, 1);
    }

    #[test]
    fn a_signal_that_is_not_there_is_told() {
        let missing = read_all(b"(0.0) can0 123#00\n", Some(DBC), &[("torque", "Torqe")]);
        assert!(missing.unwrap_err().contains("no signal `Torqe`"));
    }
}
