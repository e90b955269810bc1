//! The file as poppler sees it: its pages as pixels, and their sizes.

use std::fs;
use std::path::PathBuf;
use std::process::Command;

use bothends::papers::Making;
use bothends::tags::Order;

use super::folder;
use super::grey::Grey;
use super::readers::run;

/// What becomes of a dot that a shape covers in part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Partly {
    /// It is grey, as on a screen: so it can be seen how far off an edge is.
    Grey,
    /// It is black, as on a printer that knows nothing else (ISO 32000-1, 10.6.5: any dot that a shape
    /// touches is painted).
    Black,
}

/// A file on the disk, in a folder that is its own.
pub(crate) struct Printed {
    folder: PathBuf,
}

impl Printed {
    /// Makes the file of an order as the program does.
    pub(crate) fn of(order: &Order, name: &str) -> Self {
        let folder = folder(name);
        fs::create_dir_all(&folder).expect("a folder");
        let mut making = Making::of(order.clone());
        while making.step() {}
        let printed = Self { folder };
        fs::write(printed.file(), making.finish()).expect("it is written");
        printed
    }

    fn file(&self) -> PathBuf {
        self.folder.join("tags.pdf")
    }

    /// Its pages as a printer of so many dots to the inch puts them down.
    pub(crate) fn pages(&self, per_inch: i32, partly: Partly) -> Vec<Grey> {
        let smoothing = match partly {
            Partly::Grey => "yes",
            Partly::Black => "no",
        };
        let into = self.folder.join(per_inch.to_string());
        fs::create_dir_all(&into).expect("a folder");
        let output = run(
            "pdftoppm",
            Command::new("pdftoppm")
                .arg("-gray")
                .args(["-aaVector", smoothing])
                .args(["-r", &per_inch.to_string()])
                .arg(self.file())
                .arg(into.join("page")),
        );
        let complaints = String::from_utf8_lossy(&output.stderr);
        assert!(
            output.status.success() && complaints.is_empty(),
            "pdftoppm: {complaints}"
        );
        let entries = fs::read_dir(&into).expect("the folder");
        let mut paths: Vec<PathBuf> = entries.flatten().map(|entry| entry.path()).collect();
        // The numbers are of equal length, so this is the order of the pages.
        paths.sort();
        let read = |path: &PathBuf| Grey::read(&fs::read(path).expect("it is there"));
        let pages = paths.iter().map(|path| read(path).expect("a grey map"));
        let pages = pages.collect();
        fs::remove_dir_all(&into).expect("the folder is emptied");
        pages
    }

    /// Width and height of each page in millimetres, as the file itself says.
    pub(crate) fn sizes(&self) -> Vec<(f64, f64)> {
        let output = run(
            "pdfinfo",
            Command::new("pdfinfo")
                .args(["-box", "-f", "1", "-l", "999"])
                .arg(self.file()),
        );
        let text = String::from_utf8_lossy(&output.stdout).into_owned();
        let boxes = text.lines().filter(|line| line.contains(" MediaBox:"));
        let size = |line: &str| {
            let (_, numbers) = line.split_once(':').expect("its numbers");
            let numbers: Vec<f64> = numbers
                .split_whitespace()
                .map(|number| number.parse().expect("a number"))
                .collect();
            assert_eq!(numbers[..2], [0.0, 0.0], "{line}");
            // A point is 1/72 inch (ISO 32000-1, 8.3.2.3), an inch 25.4 mm.
            (numbers[2] * 25.4 / 72.0, numbers[3] * 25.4 / 72.0)
        };
        boxes.map(size).collect()
    }
}

/// What is done with pages alone.
impl Grey {
    /// A part of it; what lies outside is white.
    pub(crate) fn crop(&self, (x, y): (usize, usize), (width, height): (usize, usize)) -> Self {
        let pixels = (y..y + height)
            .flat_map(|row| (x..x + width).map(move |column| (column, row)))
            .map(|(column, row)| self.at(column, row))
            .collect();
        Self {
            width,
            height,
            pixels,
        }
    }

    /// Reads a binary grey map (PGM, `P5`); none for anything else.
    pub(crate) fn read(bytes: &[u8]) -> Option<Self> {
        // Four words with one white character behind the last, then the pixels.
        let mut at = 0;
        let mut word = || {
            let rest = bytes.get(at..)?;
            let start = rest.iter().position(|byte| !byte.is_ascii_whitespace())?;
            let rest = &rest[start..];
            let end = rest.iter().position(u8::is_ascii_whitespace)?;
            at += start + end + 1;
            std::str::from_utf8(&rest[..end]).ok()
        };
        let kind = word()?;
        let mut number = || word()?.parse::<usize>().ok();
        let (width, height, most) = (number()?, number()?, number()?);
        let pixels = bytes.get(at..)?.to_vec();
        let is_whole = kind == "P5" && most == 255 && pixels.len() == width * height;
        is_whole.then_some(Self {
            width,
            height,
            pixels,
        })
    }
}

impl Drop for Printed {
    fn drop(&mut self) {
        // What a failed test leaves is looked at; what passed is cleared away.
        if !std::thread::panicking() {
            fs::remove_dir_all(&self.folder).expect("the folder is emptied");
        }
    }
}
