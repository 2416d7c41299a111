//! A picture to look at: which kind it is, told by its content and not by its name, how large, and as an address that
//! holds it whole.

use base64::Engine;
use base64::prelude::BASE64_STANDARD;

/// Most bytes of a picture: a page that holds more is slow in any browser.
pub const LARGEST: usize = 20_000_000;
/// Most pixels along a side.
const LONGEST: f64 = 30_000.0;
/// Pixels of CSS in the units that an SVG may be sized in.
const UNITS: [(&str, f64); 6] = [
    ("px", 1.0),
    ("mm", 96.0 / 25.4),
    ("cm", 960.0 / 25.4),
    ("in", 96.0),
    ("pt", 96.0 / 72.0),
    ("pc", 16.0),
];

/// A picture that was understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// Width and height as it is shown, pixels.
    pub size: [f64; 2],
    kind: &'static str,
    bytes: Vec<u8>,
}

impl Picture {
    /// A picture from its bytes.
    ///
    /// # Errors
    /// What it is not, and what to do, to be put behind the name of the file.
    pub fn of(bytes: Vec<u8>) -> Result<Self, String> {
        if bytes.len() > LARGEST {
            return Err(format!(
                "larger than {} MB: save it smaller",
                LARGEST / 1_000_000
            ));
        }
        let (kind, size) = if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
            ("image/png", png(&bytes))
        } else if bytes.starts_with(&[0xff, 0xd8, 0xff]) {
            ("image/jpeg", jpeg(&bytes))
        } else if let Some(root) = svg_root(&bytes) {
            ("image/svg+xml", Some(svg(root).ok_or(
                "an SVG that does not say how large it is: give its first element a width and a height, or a viewBox",
            )?))
        } else {
            return Err("no picture that is known here: save it as PNG, JPEG or SVG".to_owned());
        };
        let size = size.ok_or("a picture that is cut off or damaged: save it anew")?;
        if !size.iter().all(|side| *side >= 1.0 && *side <= LONGEST) {
            return Err(format!(
                "a picture of {} x {} pixels: from 1 to {LONGEST} along each side can be shown",
                size[0], size[1]
            ));
        }
        Ok(Self { size, kind, bytes })
    }

    /// The whole picture as an address (RFC 2397).
    #[must_use]
    pub fn address(&self) -> String {
        format!(
            "data:{};base64,{}",
            self.kind,
            BASE64_STANDARD.encode(&self.bytes)
        )
    }
}

fn two(bytes: &[u8], at: usize) -> Option<u16> {
    let pair = bytes.get(at..at.checked_add(2)?)?;
    Some(u16::from_be_bytes(pair.try_into().ok()?))
}

/// Width and height in the first chunk, IHDR (ISO/IEC 15948, 11.2.2).
fn png(bytes: &[u8]) -> Option<[f64; 2]> {
    if bytes.get(12..16)? != b"IHDR" {
        return None;
    }
    let side = |at: usize| -> Option<f64> {
        let four = bytes.get(at..at + 4)?;
        Some(f64::from(u32::from_be_bytes(four.try_into().ok()?)))
    };
    Some([side(16)?, side(20)?])
}

/// Width and height in the frame header (ITU-T T.81, B.2.2), turned as the camera was held.
fn jpeg(bytes: &[u8]) -> Option<[f64; 2]> {
    let mut at = 2;
    let mut turned = false;
    loop {
        if *bytes.get(at)? != 0xff {
            return None;
        }
        let marker = *bytes.get(at + 1)?;
        match marker {
            // Filling before a marker, and markers that stand alone.
            0xff => {
                at += 1;
                continue;
            }
            0x01 | 0xd0..=0xd8 => {
                at += 2;
                continue;
            }
            // Scan or end before any frame.
            0xda | 0xd9 => return None,
            0xc0..=0xcf if ![0xc4, 0xc8, 0xcc].contains(&marker) => {
                let (tall, wide) = (two(bytes, at + 5)?, two(bytes, at + 7)?);
                let size = [f64::from(wide), f64::from(tall)];
                return Some(if turned { [size[1], size[0]] } else { size });
            }
            0xe1 => turned = turned || lies_on_its_side(bytes.get(at + 4..)?),
            _ => {}
        }
        at = at.checked_add(2 + usize::from(two(bytes, at + 2)?.max(2)))?;
    }
}

/// Whether a camera says that the picture is to be turned by a quarter: tag 0x0112 is 5 to 8 (Exif 2.3, 4.6.4).
fn lies_on_its_side(segment: &[u8]) -> bool {
    orientation(segment).is_some_and(|way| (5..=8).contains(&way))
}

fn orientation(segment: &[u8]) -> Option<u16> {
    let tiff = segment.strip_prefix(b"Exif\0\0")?;
    let little = tiff.starts_with(b"II");
    let short = |at: usize| two(tiff, at).map(|v| if little { v.swap_bytes() } else { v });
    let (a, b) = (short(4)?, short(6)?);
    let (low, high) = if little { (a, b) } else { (b, a) };
    let first = (usize::from(high) << 16) | usize::from(low);
    let count = usize::from(short(first)?);
    let mut entries = (0..count).map(|k| first + 2 + 12 * k);
    let found = entries.find(|at| short(*at) == Some(0x0112))?;
    short(found + 8)
}

/// The first tag of an SVG, without its brackets.
fn svg_root(bytes: &[u8]) -> Option<&str> {
    let text = std::str::from_utf8(bytes).ok()?;
    let text = text.trim_start_matches('\u{feff}').trim_start();
    if !text.starts_with('<') {
        return None;
    }
    let mut from = 0;
    loop {
        let rest = text.get(from..)?;
        let at = rest.find('<')?;
        let tag = rest.get(at..)?;
        // What may stand before it: comments, instructions, a declaration of the type.
        let skip = match tag {
            t if t.starts_with("<!--") => t.find("-->")?,
            t if t.starts_with("<?") => t.find("?>")?,
            t if t.starts_with("<!") => match (t.find('['), t.find('>')?) {
                (Some(open), end) if open < end => t.find("]>").or_else(|| t.find(']'))?,
                (_, end) => end,
            },
            _ => {
                let name = tag
                    .get(1..)?
                    .split(|c: char| c.is_whitespace() || c == '>')
                    .next()?;
                let known = name == "svg" || name.ends_with(":svg");
                return known.then(|| tag.get(1..tag.find('>')?)).flatten();
            }
        };
        from += at + skip + 1;
    }
}

fn svg(root: &str) -> Option<[f64; 2]> {
    let view = attribute(root, "viewBox").and_then(|text| {
        let numbers = text.split([' ', ',', '\n', '\t']).filter(|t| !t.is_empty());
        let numbers: Vec<f64> = numbers.map(str::parse).collect::<Result<_, _>>().ok()?;
        match numbers.as_slice() {
            [_, _, wide, tall] => Some([*wide, *tall]),
            _ => None,
        }
    });
    let side = |name| attribute(root, name).and_then(in_pixels);
    match (side("width"), side("height"), view) {
        (Some(wide), Some(tall), _) => Some([wide, tall]),
        (Some(wide), None, Some(view)) => Some([wide, wide * view[1] / view[0]]),
        (None, Some(tall), Some(view)) => Some([tall * view[0] / view[1], tall]),
        (None, None, view) => view,
        _ => None,
    }
    .filter(|size| size.iter().all(|side| side.is_finite()))
}

fn in_pixels(text: &str) -> Option<f64> {
    let text = text.trim();
    let known = UNITS
        .iter()
        .find_map(|(unit, px)| Some((text.strip_suffix(unit)?, *px)));
    let (number, px) = known.unwrap_or((text, 1.0));
    number.trim().parse::<f64>().ok().map(|v| v * px)
}

/// The value of an attribute of a tag.
fn attribute<'t>(tag: &'t str, name: &str) -> Option<&'t str> {
    let mut from = 0;
    loop {
        let at = from + tag.get(from..)?.find(name)?;
        let before = tag.get(..at)?.chars().next_back()?;
        let after = tag.get(at + name.len()..)?.trim_start();
        if let (true, Some(value)) = (before.is_whitespace(), after.strip_prefix('=')) {
            let value = value.trim_start();
            let mark = value.chars().next().filter(|c| *c == '"' || *c == '\'')?;
            return value.get(1..)?.split(mark).next();
        }
        from = at + name.len();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn png_of(wide: u32, tall: u32) -> Vec<u8> {
        let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
        bytes.extend(wide.to_be_bytes());
        bytes.extend(tall.to_be_bytes());
        bytes
    }

    /// A JPEG's head: an Exif segment with this orientation, then a frame header.
    fn jpeg_of(wide: u16, tall: u16, orientation: u16, little: bool) -> Vec<u8> {
        let two = |v: u16| {
            if little {
                v.to_le_bytes()
            } else {
                v.to_be_bytes()
            }
        };
        let four = |v: u32| {
            if little {
                v.to_le_bytes()
            } else {
                v.to_be_bytes()
            }
        };
        let mut exif = b"Exif\0\0".to_vec();
        exif.extend(if little { b"II" } else { b"MM" });
        exif.extend(two(42));
        exif.extend(four(8));
        exif.extend(two(1));
        exif.extend(two(0x0112));
        exif.extend(two(3));
        exif.extend(four(1));
        exif.extend(two(orientation));
        exif.extend([0, 0]);
        let mut bytes = vec![0xff, 0xd8, 0xff, 0xe1];
        bytes.extend((exif.len() as u16 + 2).to_be_bytes());
        bytes.extend(exif);
        bytes.extend([0xff, 0xc2, 0, 17, 8]);
        bytes.extend(tall.to_be_bytes());
        bytes.extend(wide.to_be_bytes());
        bytes
    }

    fn size(bytes: &[u8]) -> Result<[f64; 2], String> {
        Picture::of(bytes.to_vec()).map(|p| p.size)
    }

    #[test]
    fn the_content_tells_kind_and_size() {
        assert_eq!(size(&png_of(640, 480)), Ok([640.0, 480.0]));
        for little in [true, false] {
            assert_eq!(size(&jpeg_of(4000, 3000, 1, little)), Ok([4000.0, 3000.0]));
            assert_eq!(size(&jpeg_of(4000, 3000, 6, little)), Ok([3000.0, 4000.0]));
        }
        for (text, wanted) in [
            ("<svg width='300' height=\"200px\"/>", [300.0, 200.0]),
            (
                "<?xml version='1.0'?>\n<!-- <svg width='1'> -->\n<svg viewBox='0 0 30 20'></svg>",
                [30.0, 20.0],
            ),
            (
                "<!DOCTYPE svg [<!ENTITY a 'b'>]><svg stroke-width='3' width='25.4mm' viewBox='0,0,2,1'>",
                [96.0, 48.0],
            ),
            ("\u{feff}<svg:svg width='1in' height='2in'>", [96.0, 192.0]),
        ] {
            assert_eq!(size(text.as_bytes()), Ok(wanted), "{text}");
        }
    }

    #[test]
    fn what_is_no_picture_says_what_to_do() {
        let cut = &png_of(640, 480)[..20];
        for (bytes, says) in [
            (&b"GIF89a"[..], "PNG, JPEG or SVG"),
            (b"", "PNG, JPEG or SVG"),
            (
                b"<html><svg width='3' height='3'/></html>",
                "PNG, JPEG or SVG",
            ),
            (
                b"<svg><rect width='3' height='3'/></svg>",
                "a width and a height",
            ),
            (
                b"<svg width='100%' height='100%'></svg>",
                "a width and a height",
            ),
            (cut, "damaged"),
            (&jpeg_of(4000, 3000, 1, true)[..40], "damaged"),
            (&png_of(0, 480), "0 x 480 pixels"),
            (&png_of(40_000, 480), "40000 x 480 pixels"),
        ] {
            let said = size(bytes).unwrap_err();
            assert!(said.contains(says), "{says}: {said}");
        }
        // Cut anywhere, it is refused or understood, and no more.
        let whole = jpeg_of(4000, 3000, 6, false);
        for end in 0..whole.len() {
            assert!(size(&whole[..end]).is_err());
        }
    }
}
