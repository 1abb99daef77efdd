//! ASAM MDF 4: measured channels, sorted or not, plain or compressed blocks.
//!
//! Blocks link to each other by their place in the file. Data come in pieces (DT), compressed (DZ), in lists of
//! either (DL) and lists with a head (HL); records run on from piece to piece and are read one at a time.
//! Read: fixed-length numbers with identity, linear, rational or tabular conversion. Not read: text, arrays, raw bus
//! frames and the column-oriented blocks of version 4.2; each is said.

use std::io::{Read, Seek, SeekFrom};

use super::bins::Bins;
use super::{Trouble, Wanted, absent};

/// The largest block that is taken whole: loggers write a few megabytes.
const BLOCK_MAX: u64 = 256 << 20;
/// More blocks than this in one chain go round in a circle.
const CHAIN_MAX: usize = 10_000_000;
/// Names kept for messages.
const NAMES_MAX: usize = 20_000;

fn broken(what: &str) -> Trouble {
    Trouble::whole(format!("it is damaged: {what}"))
}

/// A block's head: its name, its links, and where its own data stand.
struct Block {
    name: [u8; 4],
    links: Vec<u64>,
    data_at: u64,
    data_length: u64,
}

impl Block {
    fn link(&self, index: usize) -> u64 {
        self.links.get(index).copied().unwrap_or(0)
    }
}

struct File<'f, R> {
    input: &'f mut R,
}

impl<R: Read + Seek> File<'_, R> {
    fn bytes(&mut self, at: u64, length: u64) -> Result<Vec<u8>, Trouble> {
        if BLOCK_MAX < length {
            return Err(broken("a block is larger than 256 MB"));
        }
        self.input.seek(SeekFrom::Start(at))?;
        let mut bytes = Vec::new();
        self.input.by_ref().take(length).read_to_end(&mut bytes)?;
        if bytes.len() as u64 != length {
            return Err(broken("it ends within a block"));
        }
        Ok(bytes)
    }

    fn block(&mut self, at: u64) -> Result<Block, Trouble> {
        let head = self.bytes(at, 24)?;
        let (length, count) = (u64_at(&head, 8), u64_at(&head, 16));
        let links_length = count.checked_mul(8).filter(|l| l + 24 <= length && *l < 1 << 24);
        let links_length = links_length.ok_or_else(|| broken("a block has no sense"))?;
        if head[0..2] != *b"##" {
            return Err(broken("a link does not lead to a block"));
        }
        let links = self.bytes(at + 24, links_length)?;
        Ok(Block {
            name: [head[0], head[1], head[2], head[3]],
            links: links.chunks_exact(8).map(|c| u64_at(c, 0)).collect(),
            data_at: at + 24 + links_length,
            data_length: length - 24 - links_length,
        })
    }

    fn data(&mut self, block: &Block) -> Result<Vec<u8>, Trouble> {
        self.bytes(block.data_at, block.data_length)
    }

    /// A text block, plain or within XML.
    fn text(&mut self, at: u64) -> Result<String, Trouble> {
        if at == 0 {
            return Ok(String::new());
        }
        let block = self.block(at)?;
        let data = self.data(&block)?;
        let text = String::from_utf8_lossy(&data);
        let text = text.trim_end_matches('\0').trim();
        if block.name != *b"##MD" {
            return Ok(text.to_owned());
        }
        let inside = text.split_once("<TX>").and_then(|(_, t)| t.split_once("</TX>"));
        Ok(inside.map_or("", |(t, _)| t.trim()).to_owned())
    }
}

fn u64_at(bytes: &[u8], at: usize) -> u64 {
    let mut eight = [0; 8];
    if let Some(found) = bytes.get(at..at + 8) {
        eight.copy_from_slice(found);
    }
    u64::from_le_bytes(eight)
}

fn u32_at(bytes: &[u8], at: usize) -> u32 {
    let mut four = [0; 4];
    if let Some(found) = bytes.get(at..at + 4) {
        four.copy_from_slice(found);
    }
    u32::from_le_bytes(four)
}

/// How a stored number becomes a physical one.
enum Conversion {
    Identity,
    Linear(f64, f64),
    Rational([f64; 6]),
    /// Pairs of raw and physical; straight between them or the nearest.
    Table(Vec<(f64, f64)>, Between),
    /// Texts and formulas.
    Unread,
}

#[derive(Clone, Copy, PartialEq)]
enum Between {
    Straight,
    Nearest,
}

impl Conversion {
    fn physical(&self, raw: f64) -> f64 {
        match self {
            Conversion::Identity | Conversion::Unread => raw,
            Conversion::Linear(offset, factor) => offset + factor * raw,
            Conversion::Rational([a, b, c, d, e, f]) => {
                (a * raw * raw + b * raw + c) / (d * raw * raw + e * raw + f)
            }
            Conversion::Table(pairs, between) => {
                let after = pairs.partition_point(|p| p.0 < raw);
                match (after.checked_sub(1).map(|i| pairs[i]), pairs.get(after)) {
                    (Some((x0, y0)), Some((x1, y1))) => {
                        let share = (raw - x0) / (x1 - x0);
                        match between {
                            Between::Straight => y0 + share * (y1 - y0),
                            Between::Nearest if share < 0.5 => y0,
                            Between::Nearest => *y1,
                        }
                    }
                    (Some((_, y)), None) => y,
                    (None, Some((_, y))) => *y,
                    (None, None) => f64::NAN,
                }
            }
        }
    }
}

/// A channel of numbers in a record.
struct Channel {
    data_type: u8,
    bit_offset: u32,
    byte_offset: usize,
    bit_count: u32,
    conversion: Conversion,
    /// Where the record's own byte says that the value is not valid.
    invalid_bit: Option<u32>,
    virtual_master: bool,
}

impl Channel {
    /// The physical value; none where it is marked as not valid or is no number.
    fn value(&self, record: &[u8], data_bytes: usize, index: u64) -> Option<f64> {
        if self.virtual_master {
            return Some(self.conversion.physical(index as f64));
        }
        if let Some(bit) = self.invalid_bit {
            let byte = record.get(data_bytes + (bit / 8) as usize)?;
            if byte >> (bit % 8) & 1 == 1 {
                return None;
            }
        }
        let length = (self.bit_offset + self.bit_count).div_ceil(8) as usize;
        let bytes = record.get(self.byte_offset..self.byte_offset + length)?;
        let mut eight = [0u8; 16];
        for (k, byte) in bytes.iter().enumerate() {
            let big = matches!(self.data_type, 1 | 3 | 5);
            *eight.get_mut(if big { length - 1 - k } else { k })? = *byte;
        }
        let mut raw = u128::from_le_bytes(eight) >> self.bit_offset;
        if self.bit_count < 128 {
            raw &= (1u128 << self.bit_count) - 1;
        }
        let raw = u64::try_from(raw).ok()?;
        let number = match (self.data_type, self.bit_count) {
            (0 | 1, _) => raw as f64,
            (2 | 3, n) => {
                let unused = 64 - n.min(64);
                ((raw << unused).cast_signed() >> unused) as f64
            }
            (4 | 5, 32) => f64::from(f32::from_bits(u32::try_from(raw).ok()?)),
            (4 | 5, 64) => f64::from_bits(raw),
            _ => return None,
        };
        Some(self.conversion.physical(number))
    }
}

/// A group of channels whose records stand in one stream.
struct Group {
    record_id: u64,
    data_bytes: usize,
    invalid_bytes: usize,
    variable: bool,
    master: Option<Channel>,
    /// Which series, and its channel.
    channels: Vec<(usize, Channel)>,
    seen: u64,
}

pub(super) fn read<R: Read + Seek>(
    input: &mut R,
    wanted: &mut [Wanted],
    bins: &mut Bins,
) -> Result<(), Trouble> {
    let mut file = File { input };
    let id = file.bytes(0, 64)?;
    if id[8..].first() != Some(&b'4') {
        let version = String::from_utf8_lossy(&id[8..12]).trim().to_owned();
        return Err(Trouble {
            wanted: None,
            message: format!("it is MDF of version {version}, and only version 4 is read"),
            hint: Some("save it as MDF 4 or CSV".to_owned()),
        });
    }
    bins.start_at_zero();
    let head = file.block(64)?;
    let mut names = Vec::new();
    let mut at = head.link(0);
    let mut kinds = Vec::new();
    for _ in 0..CHAIN_MAX {
        if at == 0 {
            break;
        }
        let group = file.block(at)?;
        let own = file.data(&group)?;
        let groups = groups(&mut file, group.link(1), wanted, &mut names)?;
        if groups.iter().any(|g| !g.channels.is_empty()) {
            kinds.push((group.link(2), own.first().copied().unwrap_or(0), groups));
        }
        at = group.link(0);
    }
    if let Some(trouble) = absent(wanted, names.iter().map(String::as_str), "channel") {
        return Err(trouble);
    }
    for (data, id_bytes, groups) in kinds {
        let mut stream = Stream { id_bytes: usize::from(id_bytes), groups, left: Vec::new() };
        pieces(&mut file, data, &mut |piece| stream.take(piece, bins))?;
    }
    Ok(())
}

fn groups<R: Read + Seek>(
    file: &mut File<'_, R>,
    mut at: u64,
    wanted: &mut [Wanted],
    names: &mut Vec<String>,
) -> Result<Vec<Group>, Trouble> {
    let mut all = Vec::new();
    for _ in 0..CHAIN_MAX {
        if at == 0 {
            break;
        }
        let block = file.block(at)?;
        let own = file.data(&block)?;
        let flags = u64_at(&own, 16);
        let mut group = Group {
            record_id: u64_at(&own, 0),
            data_bytes: u32_at(&own, 24) as usize,
            invalid_bytes: u32_at(&own, 28) as usize,
            variable: flags & 1 == 1,
            master: None,
            channels: Vec::new(),
            seen: 0,
        };
        if 1 << 24 < group.data_bytes + group.invalid_bytes {
            return Err(broken("a record is larger than 16 MB"));
        }
        channels(file, block.link(1), &mut group, wanted, names)?;
        all.push(group);
        at = block.link(0);
    }
    Ok(all)
}

/// The channels of a group: its clock, and those that are wanted and not yet found elsewhere.
fn channels<R: Read + Seek>(
    file: &mut File<'_, R>,
    mut at: u64,
    group: &mut Group,
    wanted: &mut [Wanted],
    names: &mut Vec<String>,
) -> Result<(), Trouble> {
    for _ in 0..CHAIN_MAX {
        if at == 0 {
            break;
        }
        let block = file.block(at)?;
        let own = file.data(&block)?;
        let name = file.text(block.link(2))?;
        let kind = own.first().copied().unwrap_or(0);
        let is_time = own.get(1) == Some(&1);
        if matches!(kind, 2 | 3) && is_time {
            let unit = file.text(block.link(6))?;
            let mut master = channel(file, &block, &own)?;
            // A clock in other units than seconds is brought to seconds at once.
            if let Ok(factor) = super::factor(&unit, physics::units::Dimension::Time)
                && factor != 1.0
            {
                let plain = std::mem::replace(&mut master.conversion, Conversion::Identity);
                master.conversion = scaled(plain, factor);
            }
            group.master = Some(master);
        } else {
            let asked = wanted.iter().position(|w| !w.found && w.name.value == name);
            if let Some(index) = asked {
                let unit = file.text(block.link(6))?;
                let found = channel(file, &block, &own)?;
                if matches!(found.conversion, Conversion::Unread)
                    || kind != 0
                    || !matches!(found.data_type, 0..=5)
                {
                    return Err(Trouble {
                        wanted: Some(index),
                        message: format!("channel `{name}` holds no plain numbers"),
                        hint: Some("save it converted to numbers, or as CSV".to_owned()),
                    });
                }
                let unit = match (unit.is_empty(), block.link(4)) {
                    (true, conversion) if conversion != 0 => {
                        let conversion = file.block(conversion)?;
                        file.text(conversion.link(1))?
                    }
                    _ => unit,
                };
                wanted[index].found(Some(unit));
                group.channels.push((wanted[index].quantity, found));
            }
            if names.len() < NAMES_MAX {
                names.push(name);
            }
        }
        at = block.link(0);
    }
    Ok(())
}

fn scaled(conversion: Conversion, factor: f64) -> Conversion {
    match conversion {
        Conversion::Linear(offset, slope) => {
            Conversion::Linear(offset * factor, slope * factor)
        }
        Conversion::Identity => Conversion::Linear(0.0, factor),
        other => other,
    }
}

fn channel<R: Read + Seek>(
    file: &mut File<'_, R>,
    block: &Block,
    own: &[u8],
) -> Result<Channel, Trouble> {
    let flags = u32_at(own, 12);
    let channel = Channel {
        data_type: own.get(2).copied().unwrap_or(0),
        bit_offset: u32::from(own.get(3).copied().unwrap_or(0)),
        byte_offset: u32_at(own, 4) as usize,
        bit_count: u32_at(own, 8),
        conversion: conversion(file, block.link(4))?,
        // Bit 0: all are invalid; bit 1: the record says which.
        invalid_bit: (flags & 2 == 2).then(|| u32_at(own, 16)),
        virtual_master: own.first() == Some(&3),
    };
    if 7 < channel.bit_offset || 64 < channel.bit_count {
        return Err(broken("a channel has more than 64 bits"));
    }
    Ok(channel)
}

fn conversion<R: Read + Seek>(file: &mut File<'_, R>, at: u64) -> Result<Conversion, Trouble> {
    if at == 0 {
        return Ok(Conversion::Identity);
    }
    let block = file.block(at)?;
    let own = file.data(&block)?;
    let values: Vec<f64> = own
        .get(24..)
        .unwrap_or(&[])
        .chunks_exact(8)
        .map(|c| f64::from_bits(u64_at(c, 0)))
        .collect();
    let pairs = || values.chunks_exact(2).map(|p| (p[0], p[1])).collect();
    Ok(match (own.first().copied().unwrap_or(0), values.as_slice()) {
        (0, _) => Conversion::Identity,
        (1, [offset, factor, ..]) => Conversion::Linear(*offset, *factor),
        (2, [a, b, c, d, e, f, ..]) => Conversion::Rational([*a, *b, *c, *d, *e, *f]),
        (4, _) => Conversion::Table(pairs(), Between::Straight),
        (5, _) => Conversion::Table(pairs(), Between::Nearest),
        _ => Conversion::Unread,
    })
}

/// Hands over the pieces of a data stream in order.
fn pieces<R: Read + Seek>(
    file: &mut File<'_, R>,
    at: u64,
    take: &mut dyn FnMut(&[u8]) -> Result<(), Trouble>,
) -> Result<(), Trouble> {
    if at == 0 {
        return Ok(());
    }
    let block = file.block(at)?;
    match &block.name {
        b"##DT" | b"##RD" => {
            // A plain piece may be the whole file, so it is taken in parts.
            let (mut from, end) = (block.data_at, block.data_at + block.data_length);
            while from < end {
                let part = (end - from).min(1 << 20);
                let bytes = file.bytes(from, part)?;
                take(&bytes)?;
                from += part;
            }
            Ok(())
        }
        b"##DZ" => {
            let bytes = unpacked(file, &block)?;
            take(&bytes)
        }
        b"##HL" => pieces(file, block.link(0), take),
        b"##DL" => {
            let mut list = block;
            for _ in 0..CHAIN_MAX {
                for index in 1..list.links.len() {
                    let piece = list.link(index);
                    // A list in a list would be a way to go round for ever.
                    if piece != 0 {
                        if !matches!(&file.block(piece)?.name, b"##DT" | b"##RD" | b"##DZ") {
                            return Err(broken("a list of data holds something else"));
                        }
                        pieces(file, piece, take)?;
                    }
                }
                match list.link(0) {
                    0 => return Ok(()),
                    next => list = file.block(next)?,
                }
                if list.name != *b"##DL" {
                    return Err(broken("a list of data goes on as something else"));
                }
            }
            Err(broken("a list of data has no end"))
        }
        b"##LD" | b"##DV" => Err(Trouble {
            wanted: None,
            message: "its data are stored by columns, which is not read".to_owned(),
            hint: Some("save it as MDF 4.10 or CSV".to_owned()),
        }),
        _ => Err(broken("a data group holds no data")),
    }
}

/// A compressed block: deflate, and where it says so bytes put back from columns to rows.
fn unpacked<R: Read + Seek>(file: &mut File<'_, R>, block: &Block) -> Result<Vec<u8>, Trouble> {
    let own = file.data(block)?;
    let (kind, columns) = (own.get(2).copied().unwrap_or(0), u32_at(&own, 4) as usize);
    let (length, packed) = (u64_at(&own, 8), u64_at(&own, 16));
    if BLOCK_MAX < length {
        return Err(broken("a compressed block is larger than 256 MB"));
    }
    let packed = usize::try_from(packed).ok().and_then(|n| own.get(24..24 + n));
    let packed = packed.ok_or_else(|| broken("a compressed block ends early"))?;
    let most = usize::try_from(length).map_err(|_| broken("a block has no sense"))?;
    let bytes = miniz_oxide::inflate::decompress_to_vec_zlib_with_limit(packed, most)
        .map_err(|_| broken("a compressed block cannot be unpacked"))?;
    if bytes.len() != most {
        return Err(broken("a compressed block has another length than it says"));
    }
    match kind {
        0 => Ok(bytes),
        1 => {
            let columns = columns.max(1);
            let rows = bytes.len() / columns;
            let mut put = vec![0; bytes.len()];
            for row in 0..rows {
                for column in 0..columns {
                    put[row * columns + column] = bytes[column * rows + row];
                }
            }
            // What does not fill a row stands as it is.
            put[rows * columns..].copy_from_slice(&bytes[rows * columns..]);
            Ok(put)
        }
        _ => Err(Trouble::whole("its blocks are compressed in a way that is not read")),
    }
}

/// Records out of pieces that may end within one.
struct Stream {
    id_bytes: usize,
    groups: Vec<Group>,
    left: Vec<u8>,
}

impl Stream {
    fn take(&mut self, piece: &[u8], bins: &mut Bins) -> Result<(), Trouble> {
        let mut all = std::mem::take(&mut self.left);
        all.extend_from_slice(piece);
        let mut rest = all.as_slice();
        while let Some(used) = self.record(rest, bins)? {
            rest = &rest[used..];
        }
        self.left = rest.to_vec();
        Ok(())
    }

    /// One record; none where it is not all there yet.
    fn record(&mut self, bytes: &[u8], bins: &mut Bins) -> Result<Option<usize>, Trouble> {
        let Some(id) = bytes.get(..self.id_bytes) else { return Ok(None) };
        let mut eight = [0; 8];
        if 8 < id.len() {
            return Err(broken("a record's number has more than 8 bytes"));
        }
        eight[..id.len()].copy_from_slice(id);
        let id = u64::from_le_bytes(eight);
        let sorted = self.id_bytes == 0;
        let Some(group) = self.groups.iter_mut().find(|g| sorted || g.record_id == id) else {
            return Err(broken("a record belongs to no group"));
        };
        let body = &bytes[self.id_bytes..];
        let length = if group.variable {
            let Some(_) = body.get(..4) else { return Ok(None) };
            4 + u32_at(body, 0) as usize
        } else {
            group.data_bytes + group.invalid_bytes
        };
        if length == 0 && sorted {
            return Ok(None);
        }
        let Some(record) = body.get(..length) else { return Ok(None) };
        if !group.variable && !group.channels.is_empty() {
            let time_s = match &group.master {
                Some(master) => master.value(record, group.data_bytes, group.seen),
                None => None,
            };
            for (quantity, channel) in &group.channels {
                match (time_s, channel.value(record, group.data_bytes, group.seen)) {
                    (Some(time_s), Some(value)) => bins.put(*quantity, time_s, value),
                    _ => bins.bad_row(),
                }
            }
        }
        group.seen += 1;
        Ok(Some(self.id_bytes + length))
    }
}

#[cfg(test)]
mod tests {
    use super::super::read_all;

    const COLUMNS: &[(&str, &str)] = &[
        ("torque", "MotorTorque"),
        ("motor-speed", "MotorSpeed"),
        ("dc-current", "PackCurrent"),
        ("dc-voltage", "PackVoltage"),
    ];

    /// Written by asammdf 8.8.28: 120 rows of torque, speed and current, 60 of voltage, plain, compressed and
    /// compressed after turning rows to columns. The numbers are what numpy gave it.
    #[test]
    fn val_files_of_another_library() {
        let files: [&[u8]; 3] = [
            include_bytes!("../../tests/logs/plain.mf4"),
            include_bytes!("../../tests/logs/deflate.mf4"),
            include_bytes!("../../tests/logs/transposed.mf4"),
        ];
        for bytes in files {
            let log = read_all(bytes, None, COLUMNS).unwrap();
            assert_eq!((log.time_s.len(), log.rows_bad), (120, 0));
            assert!((log.time_s[10] - 5.0).abs() < 1e-9);
            assert!((log.torque_nm[10] - 26.203_115_463_256_836).abs() < 1e-12);
            assert!((log.speed_rpm[10] - 1600.0).abs() < 1e-12);
            assert!((log.dc_a[10] - 12.543_921_470_642_09).abs() < 1e-9);
            // The voltage is stored in tenths, with a linear conversion, once a second.
            assert!((log.dc_v[20] - 349.0).abs() < 1e-9);
            assert!((log.dc_v[21] - 348.95).abs() < 1e-9);
            let rms = (log.dc_a.iter().map(|a| a * a).sum::<f64>() / 120.0).sqrt();
            assert!((rms - 18.791_682_227_407_872).abs() < 1e-9);
        }
    }

    /// The same library, long enough that its blocks stand in a list: 460 000 rows, 200 A and none by turns of a
    /// second.
    #[test]
    fn val_a_list_of_blocks() {
        let bytes: &[u8] = include_bytes!("../../tests/logs/list.mf4");
        let log = read_all(bytes, None, &[("phase-current", "PhaseCurrent")]).unwrap();
        assert_eq!(log.rows_bad, 0);
        let last_s = *log.time_s.last().unwrap();
        assert!((last_s - 449.2).abs() < 0.11, "{last_s}");
        let squares: f64 = log.phase_a_rms.iter().map(|a| a * a).sum();
        let rms = (squares / log.phase_a_rms.len() as f64).sqrt();
        // 141.544 A by numpy over all rows; a second is not a whole number of bins of 102.4 rows.
        assert!((rms - 141.544).abs() < 0.2, "{rms}");
    }

    #[test]
    fn damage_is_told_and_never_panics() {
        let whole: &[u8] = include_bytes!("../../tests/logs/deflate.mf4");
        for cut in (0..whole.len()).step_by(7) {
            let _ = read_all(&whole[..cut], None, COLUMNS);
            let mut turned = whole.to_vec();
            turned[cut] ^= 0xff;
            let _ = read_all(&turned, None, COLUMNS);
        }
        assert!(read_all(&whole[..2000], None, COLUMNS).is_err());
        let missing = read_all(whole, None, &[("torque", "MotorTorqe")]).unwrap_err();
        assert!(missing.contains("no channel `MotorTorqe`"));
    }
}
