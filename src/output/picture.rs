//! A picture to look at: which kind it is, told by its content and not by its name, how large, and as an address that
//! holds it whole.

use base64::Engine;
use base64::prelude::BASE64_STANDARD;
use roxmltree::{Document, Node, ParsingOptions};

/// Most bytes of a picture: a page that holds more is slow in any browser.
pub const LARGEST: usize = 20_000_000;
/// Most pixels along a side.
const LONGEST: f64 = 30_000.0;
/// Most pixels in all: a browser takes four bytes for each.
const MOST: f64 = 1e8;
/// The namespace without which a browser shows no picture.
const SPACE: &str = "http://www.w3.org/2000/svg";
const PNG: &[u8] = b"\x89PNG\r\n\x1a\n";
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
            let most = LARGEST / 1_000_000;
            return Err(format!("larger than {most} MB: save it smaller"));
        }
        let whole =
            |size: Option<_>| size.ok_or("a picture that is cut off or damaged: save it anew");
        let (kind, size) = if bytes.starts_with(PNG) {
            ("image/png", whole(png(&bytes))?)
        } else if bytes.starts_with(&[0xff, 0xd8, 0xff]) {
            ("image/jpeg", whole(jpeg(&bytes))?)
        } else if is_markup(&bytes) {
            ("image/svg+xml", svg_size(&bytes)?)
        } else {
            return Err("no picture that is known here: save it as PNG, JPEG or SVG".to_owned());
        };
        let [wide, tall] = size;
        if !size.iter().all(|side| (1.0..=LONGEST).contains(side)) || wide * tall > MOST {
            return Err(format!(
                "a picture of {wide} x {tall} pixels: save it with {LONGEST} along a side at most and {} million in all",
                MOST / 1e6
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

/// Whether it may be an SVG: text whose first sign is a bracket.
fn is_markup(bytes: &[u8]) -> bool {
    let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    text.trim_ascii_start().starts_with(b"<")
}

fn svg_size(bytes: &[u8]) -> Result<[f64; 2], String> {
    let text =
        std::str::from_utf8(bytes).map_err(|_| "an SVG that is not UTF-8: save it as UTF-8")?;
    let options = ParsingOptions {
        allow_dtd: true,
        ..ParsingOptions::default()
    };
    let document = Document::parse_with_options(text, options)
        .map_err(|why| format!("an SVG that is cut off or damaged ({why}): save it anew"))?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" || root.tag_name().namespace() != Some(SPACE) {
        return Err(format!(
            "no picture that is known here: the first element of an SVG is svg with xmlns=\"{SPACE}\"; save it as PNG, JPEG or SVG"
        ));
    }
    svg(&root).ok_or_else(|| {
        "an SVG that does not say how large it is: give its first element a width and a height, or a viewBox".to_owned()
    })
}

fn four(bytes: &[u8], at: usize) -> Option<u32> {
    let four = bytes.get(at..at.checked_add(4)?)?;
    Some(u32::from_be_bytes(four.try_into().ok()?))
}

fn two(bytes: &[u8], at: usize) -> Option<u16> {
    let pair = bytes.get(at..at.checked_add(2)?)?;
    Some(u16::from_be_bytes(pair.try_into().ok()?))
}

/// Width and height in the first chunk, IHDR, where the chunks go on to the last, IEND (ISO/IEC 15948, 5.3 and 11.2).
fn png(bytes: &[u8]) -> Option<[f64; 2]> {
    if bytes.get(12..16)? != b"IHDR" {
        return None;
    }
    let mut at = PNG.len();
    while bytes.get(at + 4..at + 8)? != b"IEND" {
        at = at.checked_add(usize::try_from(four(bytes, at)?).ok()?)?;
        at = at.checked_add(12)?;
    }
    bytes.get(at..at + 12)?;
    Some([f64::from(four(bytes, 16)?), f64::from(four(bytes, 20)?)])
}

/// Width and height in the frame header (ITU-T T.81, B.2.2), turned as the camera was held, where an end follows the scan.
fn jpeg(bytes: &[u8]) -> Option<[f64; 2]> {
    let mut at = 2;
    let mut turned = false;
    let mut size = None;
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
            // A scan: the end of the picture comes behind it, where a byte 0xff of the data is never followed by 0xd9.
            0xda => {
                let whole = bytes.get(at..)?.windows(2).any(|two| two == [0xff, 0xd9]);
                return size.filter(|_| whole);
            }
            0xd9 => return None,
            0xc0..=0xcf if ![0xc4, 0xc8, 0xcc].contains(&marker) => {
                let (tall, wide) = (two(bytes, at + 5)?, two(bytes, at + 7)?);
                let (tall, wide) = (f64::from(tall), f64::from(wide));
                size = Some(if turned { [tall, wide] } else { [wide, tall] });
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

/// Width and height that an SVG states (SVG 2, 8.9), or those of its view box; pixels of CSS.
fn svg(root: &Node<'_, '_>) -> Option<[f64; 2]> {
    let view = root.attribute("viewBox").and_then(|text| {
        let numbers = text.split(|c: char| c == ',' || c.is_whitespace());
        let numbers = numbers.filter(|t| !t.is_empty()).map(str::parse);
        let numbers: Vec<f64> = numbers.collect::<Result<_, _>>().ok()?;
        match numbers.as_slice() {
            [_, _, wide, tall] => Some([*wide, *tall]),
            _ => None,
        }
    });
    let side = |name| root.attribute(name).and_then(in_pixels);
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

#[cfg(test)]
mod tests {
    use super::*;

    fn png_of(wide: u32, tall: u32) -> Vec<u8> {
        let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
        bytes.extend(wide.to_be_bytes());
        bytes.extend(tall.to_be_bytes());
        bytes.extend([8, 2, 0, 0, 0, 1, 2, 3, 4]);
        bytes.extend(b"\0\0\0\x03IDATabc1234\0\0\0\0IEND1234");
        bytes
    }

    /// A JPEG without a picture in it: an Exif segment with this orientation, a frame header, a scan, the end.
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
        bytes.extend([3, 1, 0x11, 0, 2, 0x11, 1, 3, 0x11, 1]);
        bytes.extend([
            0xff, 0xda, 0, 6, 0, 0, 63, 0, 0x12, 0xff, 0, 0x34, 0xff, 0xd9,
        ]);
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
            (
                "<svg xmlns='http://www.w3.org/2000/svg' width='300' height=\"200px\"/>",
                [300.0, 200.0],
            ),
            (
                "<?xml version='1.0'?>\n<!-- <svg width='1'> -->\n<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 30 20'></svg>",
                [30.0, 20.0],
            ),
            (
                "<!DOCTYPE svg [<!ENTITY a 'b'>]><svg xmlns='http://www.w3.org/2000/svg' stroke-width='3' width='25.4mm' viewBox='0,0,2,1'/>",
                [96.0, 48.0],
            ),
            (
                "\u{feff}<svg:svg xmlns:svg='http://www.w3.org/2000/svg' width='1in' height='2in'/>",
                [96.0, 192.0],
            ),
        ] {
            assert_eq!(size(text.as_bytes()), Ok(wanted), "{text}");
        }
    }

    #[test]
    fn what_is_no_picture_says_what_to_do() {
        for (bytes, says) in [
            (&b"GIF89a"[..], "PNG, JPEG or SVG"),
            (b"", "PNG, JPEG or SVG"),
            (
                b"<html><svg width='3' height='3'/></html>",
                "PNG, JPEG or SVG",
            ),
            (
                b"<svg xmlns='http://www.w3.org/2000/svg'><rect width='3' height='3'/></svg>",
                "a width and a height",
            ),
            (
                b"<svg xmlns='http://www.w3.org/2000/svg' width='100%' height='100%'></svg>",
                "a width and a height",
            ),
            (b"<svg width='3' height='3'/>", "xmlns="),
            (b"<svg width='3' height='3'>", "damaged"),
            (b"<svg a='\xff'/>", "UTF-8"),
            (&png_of(0, 480), "0 x 480 pixels"),
            (&png_of(40_000, 480), "40000 x 480 pixels"),
            (&png_of(20_000, 20_000), "100 million in all"),
        ] {
            let said = size(bytes).unwrap_err();
            assert!(said.contains(says), "{says}: {said}");
        }
    }

    #[test]
    fn what_is_cut_off_anywhere_is_refused() {
        for whole in [png_of(640, 480), jpeg_of(4000, 3000, 6, false)] {
            assert!(size(&whole).is_ok());
            for end in 0..whole.len() {
                assert!(size(&whole[..end]).is_err(), "{end}");
            }
        }
    }
}
