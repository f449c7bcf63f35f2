//! A picture as SVG.

use kurbo::{BezPath, PathEl};
use svg::node::element::{Definitions, Description, Group as Node, Line, Path, Pattern, Rectangle, SVG, Text, Title};

use super::drawings::width;
use super::picture::{Anchor, Color, Fill, Group, Hatch, Label, Mark, Picture, Shape, Stroke};

/// A picture as a file, with a final line end.
pub(super) fn bytes(picture: &Picture) -> Vec<u8> {
    format!("{}\n", element(picture, "")).into_bytes()
}

/// A picture as an element of a page; `prefix` keeps its names apart from those of others on the page.
pub(super) fn element(picture: &Picture, prefix: &str) -> SVG {
    let (wide, tall) = picture.size;
    let long = |units: f64| match picture.unit_mm {
        Some(mm) => format!("{}mm", number(units * mm)),
        None => number(units),
    };
    let ground = Rectangle::new().set("width", number(wide)).set("height", number(tall)).set("fill", "#fff");
    let mut writer = Writer { prefix, hatches: Vec::new() };
    let marks: Vec<Drawn> = picture.marks.iter().map(|mark| writer.mark(mark)).collect();
    let mut drawing = SVG::new()
        .set("viewBox", format!("0 0 {} {}", number(wide), number(tall)))
        .set("width", long(wide))
        .set("height", long(tall))
        .set("font-family", "sans-serif")
        .set("role", "img")
        .add(Title::new(clean(&picture.title)))
        .add(Description::new().add(svg::node::Text::new(clean(&picture.about))));
    if !writer.hatches.is_empty() {
        drawing = drawing.add(writer.definitions());
    }
    marks.into_iter().fold(drawing.add(ground), |drawing, mark| match mark {
        Drawn::Node(node) => drawing.add(node),
        Drawn::Path(path) => drawing.add(path),
        Drawn::Text(text) => drawing.add(text),
    })
}

/// What a mark has become.
enum Drawn {
    Node(Node),
    Path(Path),
    Text(Text),
}

fn into(node: Node, drawn: Drawn) -> Node {
    match drawn {
        Drawn::Node(inner) => node.add(inner),
        Drawn::Path(path) => node.add(path),
        Drawn::Text(text) => node.add(text),
    }
}

struct Writer<'a> {
    prefix: &'a str,
    /// In the order of their first use.
    hatches: Vec<Hatch>,
}

impl Writer<'_> {
    fn mark(&mut self, mark: &Mark) -> Drawn {
        match mark {
            Mark::Shape(shape) => self.shape(shape),
            Mark::Text(label) if label.has_ground => Drawn::Node(Node::new().add(ground(label)).add(text(label))),
            Mark::Text(label) => Drawn::Text(text(label)),
            Mark::Group(group) => Drawn::Node(self.group(group)),
        }
    }

    fn group(&mut self, group: &Group) -> Node {
        let mut node = Node::new();
        if let Some(name) = &group.name {
            node = node.set("id", format!("{}{}", self.prefix, id(name)));
        }
        if let Some(title) = &group.title {
            node = node.add(Title::new(clean(title)));
        }
        group.marks.iter().fold(node, |node, mark| into(node, self.mark(mark)))
    }

    /// The hatch lies over the ground as a path of its own: tiles that carried the ground along would show their seams.
    fn shape(&mut self, shape: &Shape) -> Drawn {
        let data = data(&shape.path);
        let hatch = shape.fill.and_then(|fill| fill.hatch);
        let Some(hatch) = hatch else {
            return Drawn::Path(stroked(filled(Path::new().set("d", data), shape.fill), shape.stroke.as_ref()));
        };
        let lines = Path::new().set("d", data.as_str()).set("fill", format!("url(#{})", self.hatch(hatch)));
        let ground = filled(Path::new().set("d", data), shape.fill);
        Drawn::Node(Node::new().add(ground).add(stroked(lines, shape.stroke.as_ref())))
    }

    fn hatch(&mut self, hatch: Hatch) -> String {
        let at = self.hatches.iter().position(|known| *known == hatch).unwrap_or_else(|| {
            self.hatches.push(hatch);
            self.hatches.len() - 1
        });
        self.hatch_id(at)
    }

    fn hatch_id(&self, at: usize) -> String {
        format!("{}hatch-{}", self.prefix, at + 1)
    }

    fn definitions(&self) -> Definitions {
        self.hatches.iter().enumerate().fold(Definitions::new(), |all, (at, hatch)| {
            let (apart, middle) = (number(hatch.apart), number(hatch.apart / 2.0));
            let line = |from: (&str, &str), to: (&str, &str)| {
                Line::new()
                    .set("x1", from.0)
                    .set("y1", from.1)
                    .set("x2", to.0)
                    .set("y2", to.1)
                    .set("stroke", hex(hatch.color))
                    .set("stroke-width", number(hatch.width))
            };
            let mut pattern = Pattern::new()
                .set("id", self.hatch_id(at))
                .set("width", apart.as_str())
                .set("height", apart.as_str())
                .set("patternUnits", "userSpaceOnUse")
                .set("patternTransform", format!("rotate({})", number(-hatch.angle)))
                .add(line(("0", &middle), (&apart, &middle)));
            if hatch.is_crossed {
                pattern = pattern.add(line((&middle, "0"), (&middle, &apart)));
            }
            all.add(pattern)
        })
    }
}

fn filled(path: Path, fill: Option<Fill>) -> Path {
    match fill {
        Some(fill) => path.set("fill", hex(fill.color)),
        None => path.set("fill", "none"),
    }
}

fn stroked(path: Path, stroke: Option<&Stroke>) -> Path {
    let Some(stroke) = stroke else { return path };
    let path =
        path.set("stroke", hex(stroke.color)).set("stroke-width", number(stroke.width)).set("stroke-linejoin", "round");
    if stroke.dash.is_empty() {
        return path;
    }
    let dash: Vec<String> = stroke.dash.iter().map(|long| number(*long)).collect();
    path.set("stroke-dasharray", dash.join(" "))
}

fn text(label: &Label) -> Text {
    let (x, y) = (number(label.at.0), number(label.at.1));
    let mut text = Text::new(clean(&label.text))
        .set("x", x.as_str())
        .set("y", y.as_str())
        .set("font-size", number(label.size))
        .set("fill", hex(label.color));
    match label.anchor {
        Anchor::Start => {}
        Anchor::Middle => text = text.set("text-anchor", "middle"),
        Anchor::End => text = text.set("text-anchor", "end"),
    }
    if label.is_bold {
        text = text.set("font-weight", "bold");
    }
    if label.turned != 0.0 {
        text = text.set("transform", format!("rotate({} {x} {y})", number(label.turned)));
    }
    text
}

/// Behind the letters: a rectangle, because not all that shows SVG can draw an outline under them.
fn ground(label: &Label) -> Rectangle {
    let (wide, size) = (width(&label.text, label.size, label.is_bold), label.size);
    let share = match label.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => 0.5,
        Anchor::End => 1.0,
    };
    let (x, y) = label.at;
    let ground = Rectangle::new()
        .set("x", number(x - wide * share - size * 0.1))
        .set("y", number(y - size * 0.88))
        .set("width", number(wide + size * 0.2))
        .set("height", number(size * 1.05))
        .set("rx", number(size * 0.2))
        .set("fill", "#fff");
    if label.turned == 0.0 {
        return ground;
    }
    ground.set("transform", format!("rotate({} {} {})", number(label.turned), number(x), number(y)))
}

fn hex(Color(red, green, blue): Color) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// What XML takes for a name.
fn id(name: &str) -> String {
    let sign = |sign: char| if sign.is_alphanumeric() || ".-_".contains(sign) { sign } else { '-' };
    let id: String = name.chars().map(sign).collect();
    if id.starts_with(char::is_alphabetic) { id } else { format!("n{id}") }
}

/// Path data; a point that two decimals cannot tell from the one before is left out.
fn data(path: &BezPath) -> String {
    let mut data = String::new();
    let mut last = String::new();
    for element in path.elements() {
        let (sign, points) = match element {
            PathEl::MoveTo(to) => ('M', vec![*to]),
            PathEl::LineTo(to) => ('L', vec![*to]),
            PathEl::QuadTo(by, to) => ('Q', vec![*by, *to]),
            PathEl::CurveTo(by, then, to) => ('C', vec![*by, *then, *to]),
            PathEl::ClosePath => ('Z', Vec::new()),
        };
        let points: Vec<String> = points.iter().map(|at| format!("{} {}", number(at.x), number(at.y))).collect();
        let here = points.last().cloned().unwrap_or_default();
        if sign == 'L' && here == last {
            continue;
        }
        data.push(sign);
        data.push_str(&points.join(" "));
        last = here;
    }
    data
}

/// Of two decimals those that say something: `12.5`, `3`; never `-0`.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}

/// Text without the signs that no XML can hold; those of markup are escaped where it is written.
fn clean(text: &str) -> String {
    text.chars()
        .map(|sign| if sign.is_control() || matches!(sign, '\u{fffe}' | '\u{ffff}') { ' ' } else { sign })
        .collect()
}

#[cfg(test)]
mod tests {
    use kurbo::{Rect, Shape as _};

    use super::*;

    fn small() -> Picture {
        let hatch = Hatch { angle: 45.0, apart: 4.0, width: 0.7, color: Color(0, 0, 0), is_crossed: true };
        let square = |x: f64| Rect::new(x, 0.0, x + 10.0, 10.0).to_path(0.1);
        let stroke = Stroke { color: Color(17, 17, 17), width: 0.8, dash: vec![4.0, 2.5] };
        let shape = |x, hatch| {
            Mark::Shape(Shape {
                path: square(x),
                fill: Some(Fill { color: Color(232, 211, 174), hatch }),
                stroke: Some(stroke.clone()),
            })
        };
        let label = Label {
            at: (5.0, 20.0),
            text: "a < b".to_owned(),
            size: 11.0,
            anchor: Anchor::Middle,
            is_bold: true,
            turned: -90.0,
            color: Color(26, 26, 26),
            has_ground: true,
        };
        let group = Group {
            name: Some("body.ring-1.segment-1".to_owned()),
            title: Some("maple & more".to_owned()),
            marks: vec![shape(0.0, Some(hatch)), shape(12.0, Some(hatch)), shape(24.0, None)],
        };
        Picture {
            title: "Small".to_owned(),
            about: "Three squares.".to_owned(),
            size: (40.0, 25.0),
            unit_mm: Some(0.5),
            marks: vec![Mark::Group(group), Mark::Text(label)],
        }
    }

    #[test]
    fn a_small_picture_as_it_is_written() {
        insta::assert_snapshot!(String::from_utf8(bytes(&small())).unwrap());
    }

    #[test]
    fn numbers_have_few_digits() {
        assert_eq!([12.5, 3.0, -0.001, 0.0, 100.0, 1.0 / 3.0].map(number), ["12.5", "3", "0", "0", "100", "0.33"]);
    }

    #[test]
    fn no_text_is_markup() {
        let picture = Picture { title: "a < b\u{1}".to_owned(), about: "c & d\u{ffff}".to_owned(), ..small() };
        let text = String::from_utf8(bytes(&picture)).unwrap();
        for escaped in ["<title>a &lt; b </title>", "c &amp; d ", "maple &amp; more"] {
            assert!(text.contains(escaped), "{escaped} in {text}");
        }
        assert!(text.ends_with("</svg>\n"));
    }

    #[test]
    fn names_are_kept_apart_by_their_prefix() {
        let text = element(&small(), "cover-").to_string();
        for sign in ["id=\"cover-hatch-1\"", "url(#cover-hatch-1)", "id=\"cover-body.ring-1.segment-1\""] {
            assert!(text.contains(sign), "{sign} in {text}");
        }
        assert_eq!(id("2 rings/high"), "n2-rings-high");
    }
}
