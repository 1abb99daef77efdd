//! What the frames of a CAN bus mean: the messages and signals of a DBC file, as far as a log needs them.

use super::Trouble;

/// A signal of a message.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Signal {
    /// Of the frame; bit 31 marks a 29-bit one.
    pub(super) frame: u32,
    pub(super) message: String,
    pub(super) name: String,
    start: u32,
    length: u32,
    little_endian: bool,
    signed: bool,
    factor: f64,
    offset: f64,
    pub(super) unit: String,
    /// Value of the message's selector at which this signal is there.
    when: Option<u64>,
    selects: bool,
}

/// The signals of a DBC file.
#[derive(Debug, Default)]
pub(super) struct Dbc {
    pub(super) signals: Vec<Signal>,
}

/// Reads the `BO_` and `SG_` lines; everything else says nothing about values.
pub(super) fn read(text: &str) -> Result<Dbc, Trouble> {
    let mut dbc = Dbc::default();
    let mut message: Option<(u32, String)> = None;
    for (index, line) in text.lines().enumerate() {
        let line = line.trim();
        let wrong =
            || Trouble::whole(format!("line {} of the DBC file cannot be read", index + 1));
        if let Some(rest) = line.strip_prefix("BO_ ") {
            let mut words = rest.split_whitespace();
            let frame = words.next().and_then(|w| w.parse().ok()).ok_or_else(wrong)?;
            let name = words.next().ok_or_else(wrong)?.trim_end_matches(':').to_owned();
            message = Some((frame, name));
        } else if let Some(rest) = line.strip_prefix("SG_ ") {
            let (frame, name) = message.as_ref().ok_or_else(wrong)?;
            dbc.signals.push(signal(rest, *frame, name).ok_or_else(wrong)?);
        }
    }
    Ok(dbc)
}

/// `Name m3 : 8|16@1- (0.1,-40) [0|0] "A" Vector__XXX`
fn signal(text: &str, frame: u32, message: &str) -> Option<Signal> {
    let (head, tail) = text.split_once(':')?;
    let mut head = head.split_whitespace();
    let name = head.next()?.to_owned();
    let selector = head.next();
    let (bits, tail) = tail.trim_start().split_once(' ')?;
    let (start, rest) = bits.split_once('|')?;
    let (length, order) = rest.split_once('@')?;
    let (factor, offset) = between(tail, '(', ')')?.split_once(',')?;
    let length: u32 = length.parse().ok()?;
    if !(1..=64).contains(&length) {
        return None;
    }
    Some(Signal {
        frame,
        message: message.to_owned(),
        name,
        start: start.parse().ok().filter(|s| *s < 512)?,
        length,
        little_endian: order.starts_with('1'),
        signed: order.ends_with('-'),
        factor: factor.trim().parse().ok()?,
        offset: offset.trim().parse().ok()?,
        unit: between(tail, '"', '"')?.trim().to_owned(),
        when: selector.and_then(|s| s.strip_prefix('m')?.trim_end_matches('M').parse().ok()),
        selects: selector == Some("M"),
    })
}

fn between(text: &str, open: char, close: char) -> Option<&str> {
    let from = text.find(open)? + open.len_utf8();
    let to = from + text[from..].find(close)?;
    Some(&text[from..to])
}

impl Signal {
    /// Its value in a frame's bytes; none where the frame is too short.
    fn raw(&self, data: &[u8]) -> Option<u64> {
        let mut raw = 0u64;
        let mut at = self.start;
        for k in 0..self.length {
            let byte = *data.get((at / 8) as usize)?;
            let bit = u64::from(byte >> (at % 8) & 1);
            if self.little_endian {
                raw |= bit << k;
                at += 1;
            } else {
                // From the highest bit down, bytes in order: after bit 0 comes bit 7 of the next byte.
                raw = raw << 1 | bit;
                at = if at.is_multiple_of(8) { at + 15 } else { at - 1 };
            }
        }
        Some(raw)
    }

    fn physical(&self, data: &[u8]) -> Option<f64> {
        let raw = self.raw(data)?;
        let number = if self.signed {
            let unused = 64 - self.length;
            ((raw << unused).cast_signed() >> unused) as f64
        } else {
            raw as f64
        };
        Some(self.factor * number + self.offset)
    }
}

impl Dbc {
    /// Value of a signal in a frame, if the frame holds it.
    pub(super) fn value(&self, signal: &Signal, data: &[u8]) -> Option<f64> {
        if let Some(when) = signal.when {
            let selector =
                self.signals.iter().find(|s| s.frame == signal.frame && s.selects)?;
            if selector.raw(data)? != when {
                return None;
            }
        }
        signal.physical(data)
    }

    /// The signal of that name, or of "Message.Signal".
    pub(super) fn find(&self, name: &str) -> Option<usize> {
        self.signals.iter().position(|s| {
            s.name == name
                || name.split_once('.').is_some_and(|(m, n)| s.message == m && s.name == n)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = r#"
VERSION ""
BO_ 291 Drive: 8 ECU
 SG_ Torque : 0|16@1- (0.5,-10) [0|0] "Nm" X
 SG_ Speed : 23|16@0+ (1,0) [0|0] "rpm" X
BO_ 2566844926 Mixed: 8 ECU
 SG_ Which M : 0|8@1+ (1,0) [0|0] "" X
 SG_ Hot m1 : 8|8@1+ (1,-40) [0|0] "degC" X
"#;

    #[test]
    fn both_byte_orders_and_signs() {
        let dbc = read(TEXT).ok().unwrap();
        let data = [0xf6, 0xff, 0x0b, 0xb8, 0, 0, 0, 0];
        let value = |name: &str| {
            let at = dbc.find(name).unwrap();
            dbc.value(&dbc.signals[at], &data)
        };
        // -10 x 0.5 - 10, and 0x0bb8 with the high byte first.
        assert_eq!(value("Torque"), Some(-15.0));
        assert_eq!(value("Drive.Speed"), Some(3000.0));
        let hot = &dbc.signals[dbc.find("Hot").unwrap()];
        assert_eq!(dbc.value(hot, &[1, 60]), Some(20.0));
        assert_eq!((dbc.value(hot, &[2, 60]), dbc.value(hot, &[1])), (None, None));
    }

    #[test]
    fn a_broken_line_is_named() {
        let broken = read("BO_ 1 A: 8 X\n SG_ B : 0|99@1+ (1,0) [0|0] \"\" X").err().unwrap();
        assert!(broken.message.contains("line 2"));
    }
}
