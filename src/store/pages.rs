//! The pages of a store's file without SQLite, for when pages are torn: what SQLite cannot reach through a damaged tree lies
//! on whole pages all the same.
//!
//! The formats are SQLite's own (sqlite.org/fileformat2.html): b-tree pages with cells of records, and the log, whose newest
//! committed page goes before that of the file. Nothing here trusts a number that it reads.

use rusqlite::types::Value;
use std::collections::{HashMap, HashSet};
use std::ffi::OsString;
use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

/// The size of a page where nothing says another.
const USUAL_SIZE: usize = 4096;
/// Records longer than this are damage: no answer is a tenth of it.
const LONGEST_RECORD: usize = 1 << 20;
/// So many overflow pages at most are read for the records of one page: a file that was made up to keep us busy must not.
const MOST_OVERFLOW: usize = LONGEST_RECORD / 512;

/// The log beside a store.
pub(super) fn log_of(path: &Path) -> PathBuf {
    belonging(path, "-wal")
}

/// The file beside a store with this end of its name; of a link, beside the store that it leads to.
pub(super) fn belonging(path: &Path, end: &str) -> PathBuf {
    beside(&std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned()), end)
}

/// What lies beside a store under the name of a file that belongs to it and is no ordinary file: a pipe would be waited for.
pub(super) fn odd_beside(path: &Path) -> Option<PathBuf> {
    let ends = ["-wal", "-shm", "-journal"].into_iter();
    ends.map(|end| belonging(path, end)).find(|file| std::fs::metadata(file).is_ok_and(|about| !about.is_file()))
}

/// The file beside a store with this end of its name.
pub(super) fn beside(path: &Path, end: &str) -> PathBuf {
    let mut name = path.file_name().map_or_else(OsString::new, OsString::from);
    name.push(end);
    path.with_file_name(name)
}

/// A file of pages.
#[derive(Debug)]
pub(super) struct Pages {
    file: File,
    size: usize,
    count: u32,
    /// Where in the log the newest committed form of a page stands.
    newer: HashMap<u32, u64>,
    log: Option<File>,
}

impl Pages {
    /// Opens the file, with its log if there is one.
    pub(super) fn open(path: &Path) -> io::Result<Pages> {
        let mut file = File::open(path)?;
        let mut header = Vec::new();
        (&mut file).take(100).read_to_end(&mut header)?;
        let log = log_of(path);
        // A pipe would be waited for.
        let mut log =
            std::fs::metadata(&log).ok().filter(std::fs::Metadata::is_file).and_then(|_| File::open(&log).ok());
        let head = log.as_mut().and_then(LogHead::read);
        let in_header = header.starts_with(b"SQLite format 3\0").then(|| be16(&header, 16)).flatten();
        let size = in_header.map(|size| if size == 1 { 1 << 16 } else { size });
        let size = head.as_ref().map(|head| head.page_size).or(size);
        let size = size.filter(|size| size.is_power_of_two() && (512..=1 << 16).contains(size)).unwrap_or(USUAL_SIZE);
        let (newer, last) = match (&mut log, head) {
            (Some(log), Some(head)) => head.frames(log, size)?,
            _ => (HashMap::new(), None),
        };
        let length = file.metadata()?.len();
        let in_file = u32::try_from(length.div_ceil(size as u64)).unwrap_or(u32::MAX);
        // What the log says is only a number: pages that stand neither in the file nor in it are none.
        let in_log = u32::try_from(newer.len()).unwrap_or(u32::MAX);
        let count = in_file.max(last.unwrap_or(0).min(in_file.saturating_add(in_log)));
        Ok(Pages { file, size, count, newer, log })
    }

    /// How many pages there are; they count from 1.
    pub(super) const fn count(&self) -> u32 {
        self.count
    }

    /// A page in its newest committed form; what the file lacks of it is zeros.
    pub(super) fn read(&mut self, number: u32) -> io::Result<Vec<u8>> {
        let (file, at) = match (self.newer.get(&number), &mut self.log) {
            (Some(at), Some(log)) => (log, *at),
            _ => (&mut self.file, u64::from(number.saturating_sub(1)) * self.size as u64),
        };
        file.seek(SeekFrom::Start(at))?;
        let mut page = Vec::with_capacity(self.size);
        file.take(self.size as u64).read_to_end(&mut page)?;
        page.resize(self.size, 0);
        Ok(page)
    }

    /// The pages that the file names as unused, as far as that can be read: what lies on them is old.
    pub(super) fn unused(&mut self) -> io::Result<HashSet<u32>> {
        let mut unused = HashSet::new();
        let mut trunk = be32(&self.read(1)?, 32).unwrap_or(0);
        while (2..=self.count).contains(&trunk) && unused.insert(trunk) {
            let page = self.read(trunk)?;
            let leaves = be32(&page, 4).map_or(0, |leaves| leaves as usize).min(self.size / 4 - 2);
            unused.extend((0..leaves).filter_map(|leaf| be32(&page, 8 + 4 * leaf)));
            trunk = be32(&page, 0).unwrap_or(0);
        }
        Ok(unused)
    }

    /// Hands over every record of a page: of a leaf of a table with its key, of an index without. A page that is none of a
    /// tree is gone through byte by byte, since what stands at its beginning may be torn and the rest whole.
    pub(super) fn records(&mut self, number: u32, mut each: impl FnMut(Option<i64>, Vec<Value>)) -> io::Result<()> {
        let page = self.read(number)?;
        let start = if number == 1 { 100 } else { 0 };
        let kind = page.get(start).copied().unwrap_or(0);
        let cells = be16(&page, start + 3).unwrap_or(0);
        let (pointers, is_table) = match kind {
            0x0d => (start + 8, true),
            0x0a => (start + 8, false),
            0x02 => (start + 12, false),
            // Inner pages of tables have no records.
            0x05 => return Ok(()),
            _ => (0, true),
        };
        let places: Vec<usize> = if pointers == 0 {
            (start..page.len()).collect()
        } else {
            (0..cells).filter_map(|cell| be16(&page, pointers + 2 * cell)).collect()
        };
        let mut overflow = MOST_OVERFLOW;
        for place in places {
            let place = if kind == 0x02 { place + 4 } else { place };
            if let Some((key, payload)) = self.cell(&page, place, is_table, &mut overflow)
                && let Some(values) = record(&payload)
            {
                each(key, values);
            }
        }
        Ok(())
    }

    /// The payload of a cell, with what of it stands on overflow pages, of which so many may still be read.
    fn cell(
        &mut self,
        page: &[u8],
        place: usize,
        is_table: bool,
        overflow: &mut usize,
    ) -> Option<(Option<i64>, Vec<u8>)> {
        let (length, used) = varint(page, place)?;
        let length = usize::try_from(length).ok().filter(|length| (2..LONGEST_RECORD).contains(length))?;
        let mut at = place + used;
        let key = if is_table {
            let (key, used) = varint(page, at)?;
            at += used;
            Some(key)
        } else {
            None
        };
        let most = if is_table { self.size - 35 } else { (self.size - 12) * 64 / 255 - 23 };
        let least = (self.size - 12) * 32 / 255 - 23;
        let local = if length <= most {
            length
        } else {
            let wanted = least + (length - least) % (self.size - 4);
            if wanted <= most { wanted } else { least }
        };
        let mut payload = page.get(at..at.checked_add(local)?)?.to_vec();
        if local < length {
            let mut next = be32(page, at + local)?;
            let mut seen = HashSet::new();
            while payload.len() < length {
                // A chain that comes back to itself never ends.
                if next == 0 || next > self.count || !seen.insert(next) || *overflow == 0 {
                    return None;
                }
                *overflow -= 1;
                let over = self.read(next).ok()?;
                next = be32(&over, 0)?;
                let wanted = (length - payload.len()).min(self.size - 4);
                payload.extend_from_slice(over.get(4..4 + wanted)?);
            }
        }
        Some((key, payload))
    }
}

/// The values of a record; none where it is no record.
fn record(payload: &[u8]) -> Option<Vec<Value>> {
    let (header, mut at) = varint(payload, 0)?;
    let header = usize::try_from(header).ok().filter(|header| *header <= payload.len() && *header <= 128)?;
    let mut body = header;
    let mut values = Vec::new();
    while at < header {
        let (kind, used) = varint(payload, at)?;
        at += used;
        let mut take = |length: usize| {
            let bytes = payload.get(body..body.checked_add(length)?)?;
            body += length;
            Some(bytes)
        };
        let whole = |bytes: &[u8]| {
            let negative = bytes.first().is_some_and(|first| first & 0x80 != 0);
            let start = if negative { -1_i64 } else { 0 };
            Value::Integer(bytes.iter().fold(start, |number, byte| number << 8 | i64::from(*byte)))
        };
        values.push(match kind {
            0 => Value::Null,
            1..=4 => whole(take(usize::try_from(kind).ok()?)?),
            5 => whole(take(6)?),
            6 => whole(take(8)?),
            7 => Value::Real(f64::from_be_bytes(take(8)?.try_into().ok()?)),
            8 => Value::Integer(0),
            9 => Value::Integer(1),
            kind if kind >= 12 && kind % 2 == 0 => Value::Blob(take(usize::try_from((kind - 12) / 2).ok()?)?.to_vec()),
            kind if kind >= 13 => {
                Value::Text(String::from_utf8_lossy(take(usize::try_from((kind - 13) / 2).ok()?)?).into_owned())
            }
            _ => return None,
        });
    }
    (at == header && body == payload.len()).then_some(values)
}

/// A number of one to nine bytes, and how many.
fn varint(bytes: &[u8], at: usize) -> Option<(i64, usize)> {
    let mut number = 0_i64;
    for used in 0..9 {
        let byte = i64::from(*bytes.get(at.checked_add(used)?)?);
        if used == 8 {
            return Some((number << 8 | byte, 9));
        }
        number = number << 7 | (byte & 0x7f);
        if byte < 0x80 {
            return Some((number, used + 1));
        }
    }
    None
}

fn be16(bytes: &[u8], at: usize) -> Option<usize> {
    let two = bytes.get(at..at + 2)?;
    Some(usize::from(two[0]) << 8 | usize::from(two[1]))
}

fn be32(bytes: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?))
}

/// The beginning of a log.
struct LogHead {
    page_size: usize,
    salts: [u8; 8],
    /// Whether its sums read their words the long end first.
    big_ended: bool,
    sums: (u32, u32),
}

impl LogHead {
    const LENGTH: usize = 32;

    fn read(log: &mut File) -> Option<LogHead> {
        let mut bytes = [0; LogHead::LENGTH];
        log.read_exact(&mut bytes).ok()?;
        let magic = be32(&bytes, 0).filter(|magic| magic & !1 == 0x377f_0682)?;
        let big_ended = magic & 1 == 1;
        let sums = sum_on((0, 0), &bytes[..24], big_ended);
        if (be32(&bytes, 24)?, be32(&bytes, 28)?) != sums {
            return None;
        }
        let page_size = usize::try_from(be32(&bytes, 8)?).ok()?;
        Some(LogHead { page_size, salts: bytes[16..24].try_into().ok()?, big_ended, sums })
    }

    /// Where each page stands that a commit in the log has written, and how many pages the file has after the last one.
    fn frames(self, log: &mut File, size: usize) -> io::Result<(HashMap<u32, u64>, Option<u32>)> {
        const FRAME: usize = 24;
        let (mut newer, mut waiting, mut pages) = (HashMap::new(), Vec::new(), None);
        let mut sums = self.sums;
        let mut at = LogHead::LENGTH as u64;
        let mut frame = vec![0; FRAME + size];
        while self.page_size == size && log.read_exact(&mut frame).is_ok() {
            let number = |place| be32(&frame, place).unwrap_or(0);
            sums = sum_on(sums, &frame[..8], self.big_ended);
            sums = sum_on(sums, &frame[FRAME..], self.big_ended);
            if frame[8..16] != self.salts || (number(16), number(20)) != sums {
                break;
            }
            waiting.push((number(0), at + FRAME as u64));
            // Only what a commit ends with is in the file.
            if number(4) > 0 {
                newer.extend(waiting.drain(..));
                pages = Some(number(4));
            }
            at += frame.len() as u64;
        }
        Ok((newer, pages))
    }
}

/// The log's own sums over more bytes.
fn sum_on((mut one, mut other): (u32, u32), bytes: &[u8], big_ended: bool) -> (u32, u32) {
    let word = |bytes: &[u8]| {
        let bytes = [bytes[0], bytes[1], bytes[2], bytes[3]];
        if big_ended { u32::from_be_bytes(bytes) } else { u32::from_le_bytes(bytes) }
    };
    for pair in bytes.chunks_exact(8) {
        one = one.wrapping_add(word(&pair[..4])).wrapping_add(other);
        other = other.wrapping_add(word(&pair[4..])).wrapping_add(one);
    }
    (one, other)
}

/// A cell of a table's page, for tests.
#[cfg(test)]
#[derive(Debug)]
pub(super) struct Cell {
    /// Where it begins on its page.
    pub(super) at: usize,
    /// How many bytes.
    pub(super) length: usize,
    /// How many of them stand before its record.
    pub(super) header: usize,
    pub(super) key: i64,
    pub(super) values: Vec<Value>,
}

#[cfg(test)]
impl Pages {
    /// The cells of a page that have no overflow.
    pub(super) fn cells(&mut self, number: u32) -> Vec<Cell> {
        let page = self.read(number).unwrap();
        let start = if number == 1 { 100 } else { 0 };
        if page[start] != 0x0d {
            return Vec::new();
        }
        let cells = be16(&page, start + 3).unwrap();
        let places = (0..cells).map(|cell| be16(&page, start + 8 + 2 * cell).unwrap());
        let cell = |at| {
            let (length, one) = varint(&page, at)?;
            let (key, two) = varint(&page, at + one)?;
            let (header, length) = (one + two, usize::try_from(length).ok()?);
            let values = record(page.get(at + header..at + header + length)?)?;
            Some(Cell { at, length: header + length, header, key, values })
        };
        places.filter_map(cell).collect()
    }
}
