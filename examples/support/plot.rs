//! How times grow with the size of a job, as a drawing with both scales logarithmic.

use std::time::Duration;

use super::table::{Row, thousands};

const WIDTH: f64 = 760.0;
const HEIGHT: f64 = 430.0;
const LEFT: f64 = 70.0;
const TOP: f64 = 30.0;
/// The width of a power of ten in size, and its height in time.
const PER_SIZE: f64 = 200.0;
const PER_TIME: f64 = 50.0;
/// The shortest and the longest time, as powers of ten of a second.
const FROM: i32 = -5;
const TO: i32 = 2;
/// Lines of words do not lie closer than this.
const LEADING: f64 = 15.0;

/// One line of the drawing, with its words at the right end.
struct Line {
    words: String,
    times: Vec<Duration>,
    ours: bool,
}

/// The rows over the sizes, each a power of ten, the other programs in broken lines.
pub(crate) fn plot(sizes: &[usize], rows: &[&Row]) -> String {
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" \
         font-family=\"sans-serif\" font-size=\"12\">\n\
         <title>Time over the number of cables</title>\n\
         <rect width=\"{WIDTH}\" height=\"{HEIGHT}\" fill=\"white\"/>\n"
    );
    let right = x(sizes.len() - 1);
    for power in FROM..=TO {
        let y = height(10_f64.powi(power));
        let words = super::table::short(Duration::from_secs_f64(10_f64.powi(power)));
        let words = words.replace(".00", "").replace(".0", "");
        svg += &format!(
            "<path d=\"M{LEFT} {y}H{right}\" stroke=\"#ccc\"/>\n\
             <text x=\"{}\" y=\"{}\" text-anchor=\"end\">{words}</text>\n",
            LEFT - 6.0,
            y + 4.0
        );
    }
    for (at, size) in sizes.iter().enumerate() {
        let (x, foot) = (x(at), height(10_f64.powi(FROM)));
        svg += &format!(
            "<path d=\"M{x} {TOP}V{foot}\" stroke=\"#ccc\"/>\n\
             <text x=\"{x}\" y=\"{}\" text-anchor=\"middle\">{} cables</text>\n",
            foot + 20.0,
            thousands(*size)
        );
    }
    let mut lines: Vec<Line> = rows.iter().flat_map(|row| lines(row)).collect();
    lines.sort_by_key(|line| std::cmp::Reverse(line.times.last().copied()));
    let mut free = 0.0;
    for line in &lines {
        free = f64::max(free, end(line)) + LEADING;
        svg += &drawn(line, free - LEADING);
    }
    svg + "</svg>\n"
}

fn lines(row: &Row) -> Vec<Line> {
    let times = row.figures.iter().map(|figure| figure.ours);
    let mut lines = vec![Line {
        words: row.what.to_owned(),
        times: times.collect(),
        ours: true,
    }];
    let others: Option<Vec<_>> = row.figures.iter().map(|figure| figure.theirs).collect();
    lines.extend(others.map(|times| Line {
        words: row.beside.to_owned(),
        times,
        ours: false,
    }));
    lines
}

fn drawn(line: &Line, words_at: f64) -> String {
    let points: Vec<String> = line
        .times
        .iter()
        .enumerate()
        .map(|(at, time)| format!("{:.0},{:.1}", x(at), height(time.as_secs_f64())))
        .collect();
    let (colour, broken) = match line.ours {
        true => ("#0b4f8a", ""),
        false => ("#a33c00", " stroke-dasharray=\"6 4\""),
    };
    format!(
        "<polyline points=\"{}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"2\"{broken}/>\n\
         <text x=\"{:.0}\" y=\"{:.1}\" fill=\"{colour}\">{}</text>\n",
        points.join(" "),
        x(line.times.len() - 1) + 8.0,
        words_at + 4.0,
        line.words
    )
}

fn end(line: &Line) -> f64 {
    let last = line.times.last().map_or(0.0, Duration::as_secs_f64);
    height(last)
}

fn x(at: usize) -> f64 {
    (0..at).fold(LEFT, |x, _| x + PER_SIZE)
}

fn height(seconds: f64) -> f64 {
    TOP + (f64::from(TO) - seconds.log10()) * PER_TIME
}
