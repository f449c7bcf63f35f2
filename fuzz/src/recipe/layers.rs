//! The stack: a floor, then layers of all kinds, then a lid.

use std::fmt::Write as _;

use super::super::script::Script;
use super::{Frame, Meets, WOODS, size};

/// The layers as they are written, and what later choices need to know of them.
pub struct Stack {
    /// `body { … }` and `lid { … }`.
    pub text: String,
    /// Boards and charts that the layers name.
    pub named: String,
    /// All layers together.
    pub high: f64,
    /// Where a stack can be sawn apart.
    pub parted_at: f64,
    /// The middle of a plain ring and the angle of one segment, for what is let in there.
    pub ring: Option<(f64, f64)>,
}

impl Stack {
    /// Lays the layers of a vessel.
    pub fn lay(script: &mut Script<'_>, frame: &Frame) -> Self {
        let mut laying = Laying {
            frame,
            lines: String::new(),
            named: named(),
            high: 0.0,
            count: 12,
            is_open: false,
            rings: Vec::new(),
        };
        laying.every(script);
        laying.floor(script);
        laying.ring(script, 15.0);
        for _ in 0..script.below(6) {
            laying.layer(script);
        }
        if laying.is_open || laying.high < 40.0 {
            laying.ring(script, 16.0);
        }
        // What a joint is turned in is one plain ring with wood to spare.
        let rim = if frame.lid.is_jointed() { 26.0 } else { 14.0 };
        laying.ring(script, rim);
        let parted_at = laying.high - rim / 2.0 - if frame.lid.is_jointed() { 5.0 } else { 0.0 };
        if let Meets::Parted(_) = frame.lid {
            laying.ring(script, 16.0);
            laying.solid(script, frame.top);
        }
        let mut text = format!("  body {{\n{}  }}\n", std::mem::take(&mut laying.lines));
        if !matches!(frame.lid, Meets::None | Meets::Parted(_)) {
            if frame.lid.is_jointed() {
                laying.ring(script, 24.0);
            } else if script.below(2) == 1 {
                laying.ring(script, 14.0);
            }
            laying.solid(script, frame.top);
            let _ = writeln!(text, "  lid {{\n{}  }}", laying.lines);
        }
        Self { text, named: laying.named, high: laying.high, parted_at, ring: laying.rings.first().copied() }
    }
}

/// A board, and a chart of it, whether or not a layer takes them.
fn named() -> String {
    "board stripe { walnut 8 mm  maple 3 mm  walnut 19 mm }\n\
     chart waves {\n  m = maple\n  s = cherry\n  rows {\n    s m m s\n    m s s m\n  }\n}\n"
        .to_owned()
}

struct Laying<'f> {
    frame: &'f Frame,
    lines: String,
    named: String,
    high: f64,
    /// Segments of a ring, when it does not say.
    count: usize,
    /// Whether the last layer has open joints, so that something closed has to come.
    is_open: bool,
    rings: Vec<(f64, f64)>,
}

impl Laying<'_> {
    fn line(&mut self, line: &str) {
        let _ = writeln!(self.lines, "    {line}");
    }

    fn every(&mut self, script: &mut Script<'_>) {
        self.count = script.one_of(&[12, 8, 10, 6, 16, 18, 24]);
        let stagger = script.one_of(&["", "  stagger half", "  stagger 1/3", "  stagger 7.5°", "  stagger none"]);
        let glue = script.one_of(&["", "", "  glue pva-d3", "  glue epoxy-slow", "  glue hide-liquid"]);
        let line = format!("every ring {{ segments {}  thick {}{stagger}{glue} }}", self.count, self.frame.show(15.0));
        self.line(&line);
    }

    /// One solid layer of that thickness.
    fn solid(&mut self, script: &mut Script<'_>, thick: f64) {
        let (wood, shown) = (script.one_of(&WOODS), self.frame.show(thick));
        let line = match script.below(4) {
            3 => {
                let plug = self.frame.show(18.0 + size(script, 8));
                format!("wedges {} [{wood} maple]  thick {shown}  plug walnut {plug}", self.count)
            }
            2 => format!("wedges {} {wood}  thick {shown}", self.count),
            _ => format!("disc {wood}  thick {shown}"),
        };
        self.line(&line);
        self.high += thick;
    }

    fn floor(&mut self, script: &mut Script<'_>) {
        self.solid(script, self.frame.floor);
    }

    /// A closed ring of that thickness.
    fn ring(&mut self, script: &mut Script<'_>, thick: f64) {
        let pattern = pattern(script);
        let mut line = format!("ring {pattern}  thick {}", self.frame.show(thick));
        line += script.one_of(&[
            "",
            "",
            "  match",
            "  allow 4 mm",
            "  stagger 1/4",
            "  accept ring/joints-line-up because \"so\"",
        ]);
        self.line(&line);
        #[allow(clippy::cast_precision_loss, reason = "counts of segments are small")]
        self.rings.push((self.high + thick / 2.0, 360.0 / self.count as f64));
        self.high += thick;
        self.is_open = false;
    }

    /// Any layer, or several.
    fn layer(&mut self, script: &mut Script<'_>) {
        let thick = 10.0 + size(script, 12);
        let shown = self.frame.show(thick);
        if self.is_open {
            return self.ring(script, thick);
        }
        match script.below(14) {
            0..=2 => self.ring(script, thick),
            3 => {
                let count = script.one_of(&[2_u8, 3, 4]);
                let line = format!("repeat {count} {{ ring {}  thick {shown} }}", pattern(script));
                self.line(&line);
                self.high += f64::from(count) * thick;
            }
            4 => {
                let line = format!("repeat 3 as i {{ ring [maple*2 cherry]  thick {shown}  stagger (4° + i * 2°) }}");
                self.line(&line);
                self.high += 3.0 * thick;
            }
            5 => {
                let line = format!(
                    "ring {}  thick {shown}  spacer {} {}",
                    pattern(script),
                    script.one_of(&WOODS),
                    self.frame.show(1.0 + size(script, 1))
                );
                self.line(&line);
                self.high += thick;
            }
            6 => {
                let line =
                    format!("ring maple  thick {shown}  gap {}  stagger half", script.one_of(&["10%", "1/5", "3°"]));
                self.line(&line);
                self.high += thick;
                self.is_open = true;
            }
            7 => {
                let tall = 35.0 + size(script, 40);
                let line = format!(
                    "staves {} {}  tall {}",
                    script.one_of(&[12, 16, 20, 9]),
                    script.one_of(&WOODS),
                    self.frame.show(tall)
                );
                self.line(&line);
                self.high += tall;
            }
            8 => {
                self.line(&format!("ring stripe  thick {}", self.frame.show(16.0)));
                self.high += 16.0;
            }
            9 => {
                let turn = script.one_of(&["", "  turn 1"]);
                let count = if self.count.is_multiple_of(4) { String::new() } else { " 12".to_owned() };
                self.line(&format!("rings{count} waves{turn}"));
                self.high += 30.0;
            }
            10 => {
                let thin = 0.6 + size(script, 2);
                self.line(&format!("sheet {}  thick {}", script.one_of(&WOODS), self.frame.show(thin)));
                self.high += thin;
                self.ring(script, thick);
            }
            11 => {
                let seed = script.below(100);
                let apart = script.one_of(&["", "  apart"]);
                let line = format!("ring scatter [maple cherry walnut]  thick {shown}  seed {seed}{apart}");
                self.line(&line);
                self.high += thick;
            }
            12 => {
                let to = self.high + 3.0 * 14.0;
                let line = format!(
                    "fill to {} {{ ring {}  thick {} }}",
                    self.frame.show(to),
                    pattern(script),
                    self.frame.show(14.4)
                );
                self.line(&line);
                self.high = to;
            }
            _ => {
                // A narrow band that stands out by its wood.
                let line = format!("ring {} dark  thick {}  name band", self.count, self.frame.show(6.0));
                let line = if self.lines.contains("name band") { line.replace("  name band", "") } else { line };
                self.line(&line);
                self.high += 6.0;
            }
        }
    }
}

fn pattern(script: &mut Script<'_>) -> String {
    let (one, other) = (script.one_of(&WOODS), script.one_of(&WOODS));
    match script.below(9) {
        4 => format!("[{one} {other}]"),
        5 => format!("[{one}*3 {other}]"),
        6 => format!("mirror [{one} {other} {one}]"),
        7 => format!("rotate 1 [({one} {other})*2 maple*2]"),
        8 => format!("[{one} share 2  {other}]"),
        _ => one.to_owned(),
    }
}
