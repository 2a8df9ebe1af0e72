//! Reads a sheet with other programs: poppler and qpdf. A tool that is not installed is skipped, with a message.
//! Debian: `poppler-utils qpdf imagemagick`, and `tesseract-ocr` for text recognition.
#![allow(dead_code, reason = "each story uses what it needs of this")]
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test")]
#![allow(clippy::disallowed_methods, reason = "the tools read files")]

use std::path::{Path, PathBuf};
use std::process::Command;

/// The output of a tool, as bytes and as messages; `None` if it is not installed.
pub fn said(tool: &str, arguments: &[&str]) -> Option<(bool, Vec<u8>, String)> {
    match Command::new(tool).args(arguments).output() {
        Ok(out) => {
            Some((out.status.success(), out.stdout, String::from_utf8_lossy(&out.stderr).into_owned()))
        }
        Err(_) => {
            eprintln!("SKIPPED: {tool} is not installed, so this was not checked");
            None
        }
    }
}

/// A PDF on disk.
pub struct Pdf(pub PathBuf);

/// A word with its box, in points from the top left.
#[derive(Clone, Debug)]
pub struct Word {
    pub page: usize,
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
    pub text: String,
}

impl Pdf {
    pub fn write(path: &Path, bytes: &[u8]) -> Self {
        std::fs::write(path, bytes).unwrap();
        Self(path.to_path_buf())
    }

    fn name(&self) -> &str {
        self.0.to_str().unwrap()
    }

    /// Its text in reading order; page breaks are form feeds. The reader must not warn.
    pub fn text(&self) -> Option<String> {
        let (good, out, warned) = said("pdftotext", &["-raw", self.name(), "-"])?;
        assert!(good && warned.is_empty(), "{warned}");
        Some(String::from_utf8(out).unwrap())
    }

    /// The text of its pages.
    pub fn pages(&self) -> Option<Vec<String>> {
        Some(self.text()?.split('\u{c}').map(str::to_owned).filter(|p| !p.trim().is_empty()).collect())
    }

    /// Every word with its box.
    pub fn words(&self) -> Option<Vec<Word>> {
        let (good, out, warned) = said("pdftotext", &["-bbox", self.name(), "-"])?;
        assert!(good && warned.is_empty(), "{warned}");
        let text = String::from_utf8(out).unwrap();
        let mut page = 0;
        let mut words = Vec::new();
        for line in text.lines() {
            if line.contains("<page ") {
                page += 1;
            }
            let field = |name: &str| -> Option<f64> {
                line.split(&format!("{name}=\"")).nth(1)?.split('"').next()?.parse().ok()
            };
            if let (Some(left), Some(top), Some(right), Some(bottom)) =
                (field("xMin"), field("yMin"), field("xMax"), field("yMax"))
            {
                let text = line.split('>').nth(1).and_then(|t| t.split("</").next()).unwrap_or("").to_owned();
                words.push(Word { page, left, top, right, bottom, text });
            }
        }
        Some(words)
    }

    /// Its contents uncompressed.
    pub fn unpacked(&self) -> Option<String> {
        let (good, out, warned) = said(
            "qpdf",
            &["--qdf", "--object-streams=disable", "--no-original-object-ids", self.name(), "-"],
        )?;
        assert!(good && warned.is_empty(), "{warned}");
        Some(String::from_utf8_lossy(&out).into_owned())
    }

    /// A page as a one-bit picture at these dots per inch across and down; a fax has 204 and 98.
    pub fn bits(&self, page: usize, across: usize, down: usize) -> Option<Bits> {
        let (n, x, y) = (page.to_string(), across.to_string(), down.to_string());
        let arguments = ["-mono", "-rx", &x, "-ry", &y, "-f", &n, "-l", &n, self.name()];
        Some(Bits::read(&said("pdftoppm", &arguments)?.1))
    }
}

/// A one-bit picture.
pub struct Bits {
    pub width: usize,
    pub height: usize,
    rows: Vec<u8>,
}

impl Bits {
    /// From the format that pdftoppm writes (P4).
    fn read(bytes: &[u8]) -> Self {
        let head = String::from_utf8_lossy(&bytes[..40.min(bytes.len())]).into_owned();
        let mut fields = head.split_ascii_whitespace();
        assert_eq!(fields.next(), Some("P4"));
        let mut number = || -> usize { fields.next().unwrap().parse().unwrap() };
        let (width, height) = (number(), number());
        let rows = bytes[bytes.len() - width.div_ceil(8) * height..].to_vec();
        Self { width, height, rows }
    }

    pub fn black(&self, x: usize, y: usize) -> bool {
        self.rows[y * self.width.div_ceil(8) + x / 8] >> (7 - x % 8) & 1 == 1
    }

    /// The share of black in a part of the page, given in points.
    pub fn share(&self, page: (f64, f64), [left, top, right, bottom]: [f64; 4]) -> f64 {
        let x = |v: f64| (v / page.0 * self.width as f64) as usize;
        let y = |v: f64| (v / page.1 * self.height as f64) as usize;
        let all = || (y(top)..y(bottom)).flat_map(|j| (x(left)..x(right)).map(move |i| (i, j)));
        all().filter(|(i, j)| self.black(*i, *j)).count() as f64 / all().count() as f64
    }
}

/// Every size of text in unpacked contents.
pub fn sizes(unpacked: &str) -> Vec<f64> {
    unpacked
        .lines()
        .filter(|l| l.trim_end().ends_with(" Tf"))
        .filter_map(|l| l.split_ascii_whitespace().rev().nth(1)?.parse().ok())
        .collect()
}

/// The text for screen readers in place of shapes.
pub fn told(unpacked: &str) -> Vec<String> {
    let after = |part: &str| -> Option<String> {
        if let Some(hex) = part.trim_start().strip_prefix('<') {
            let hex = hex.split('>').next()?;
            let bytes: Vec<u8> =
                (0..hex.len() / 2).map(|i| u8::from_str_radix(&hex[2 * i..2 * i + 2], 16).unwrap()).collect();
            let units: Vec<u16> = bytes.chunks(2).skip(1).map(|b| u16::from_be_bytes([b[0], b[1]])).collect();
            return Some(String::from_utf16_lossy(&units));
        }
        let mut text = String::new();
        let mut chars = part.trim_start().strip_prefix('(')?.chars();
        loop {
            match chars.next()? {
                '\\' => text.extend(chars.next()),
                ')' => return Some(text),
                c => text.push(c),
            }
        }
    };
    unpacked.split("/ActualText").skip(1).filter_map(after).collect()
}

/// Colour operators other than black or white, transparency, shadings and images.
pub fn colours(unpacked: &str) -> Vec<String> {
    let mut bad = Vec::new();
    for line in unpacked.lines() {
        let mut words: Vec<&str> = line.split_ascii_whitespace().collect();
        let Some(operator) = words.pop() else { continue };
        let grey = matches!(operator, "g" | "G" | "sc" | "SC" | "scn" | "SCN");
        let other = matches!(operator, "rg" | "RG" | "k" | "K" | "sh" | "Do");
        let numbers: Vec<f64> = words.iter().filter_map(|w| w.parse().ok()).collect();
        let is_operands = !numbers.is_empty() && numbers.len() == words.len();
        if other && (is_operands || operator == "Do") && line.len() < 60
            || grey && is_operands && !numbers.iter().all(|n| *n == 0.0 || *n == 1.0)
        {
            bad.push(line.to_owned());
        }
    }
    for key in ["/SMask", "/Subtype /Image", "/ShadingType", "/BM "] {
        if unpacked.contains(key) {
            bad.push(key.to_owned());
        }
    }
    bad
}

/// Pairs of words whose boxes overlap; the boxes are those of the font, so only their middles count.
pub fn collisions(words: &[Word]) -> Vec<String> {
    let mut sorted: Vec<&Word> = words.iter().collect();
    sorted.sort_by(|a, b| (a.page, a.top).partial_cmp(&(b.page, b.top)).unwrap());
    let middle = |w: &Word| {
        let tall = w.bottom - w.top;
        (w.top + 0.32 * tall, w.bottom - 0.28 * tall)
    };
    let mut out = Vec::new();
    for (i, a) in sorted.iter().enumerate() {
        let (top, bottom) = middle(a);
        for b in sorted[i + 1..].iter().take_while(|b| b.page == a.page && b.top < a.bottom) {
            let (other_top, other_bottom) = middle(b);
            let across = a.right.min(b.right) - a.left.max(b.left);
            if across > 0.6 && bottom.min(other_bottom) - top.max(other_top) > 0.3 {
                out.push(format!("page {}: {:?} and {:?}", a.page, a.text, b.text));
            }
        }
    }
    out
}
