//! The shop sheet on paper, read and measured by poppler: what can be selected, how large it is, what is true to scale.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

use std::fs;
use std::io::Write as _;
use std::path::Path;
use std::process::Command;

use crate::support::{compile_text, cup, said};
use ringwright::compile::compile;
use ringwright::output::{Paper, documents_on};
use ringwright::source::{MapWorld, World};

/// The PDF of a text and its cut list as CSV.
fn sheet(world: &dyn World, compiled: &ringwright::compile::Compiled, paper: Option<Paper>) -> (Vec<u8>, String) {
    let design = compiled.complete().unwrap_or_else(|| panic!("{:?}", said(world, compiled)));
    let documents = documents_on(&design, world, paper);
    let bytes = |name: &str| documents.iter().find(|document| document.name == name).unwrap().bytes.clone();
    (bytes("shop-sheet.pdf"), String::from_utf8(bytes("cut-list.csv")).unwrap())
}

fn sheet_of(text: &str, paper: Option<Paper>) -> (Vec<u8>, String) {
    let (world, compiled) = compile_text(text);
    sheet(&world, &compiled, paper)
}

/// What a program of poppler says of a PDF; none when it is not on this machine.
fn poppler(program: &str, pdf: &[u8], before: &[&str], after: &[&str]) -> Option<Vec<u8>> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sheet.pdf");
    fs::write(&path, pdf).unwrap();
    let Ok(out) = Command::new(program).args(before).arg(&path).args(after).output() else {
        // Past the test runner, which keeps what a test that passes prints.
        let _ = writeln!(std::io::stderr(), "skipped: {program} is not installed");
        return None;
    };
    assert!(out.status.success() && out.stderr.is_empty(), "{program}: {}", String::from_utf8_lossy(&out.stderr));
    Some(out.stdout)
}

fn text(program: &str, pdf: &[u8], before: &[&str], after: &[&str]) -> Option<String> {
    poppler(program, pdf, before, after).map(|bytes| String::from_utf8(bytes).unwrap())
}

#[test]
fn every_cut_can_be_found_on_it() {
    let (pdf, csv) = sheet_of(&cup(""), None);
    let Some(found) = text("pdftotext", &pdf, &["-layout"], &["-"]) else { return };
    assert!(found.contains("Cup") && found.contains("Settings of the saw") && found.contains("page 1 of "));
    let mut rows = csv.lines();
    let heads: Vec<&str> = rows.next().unwrap().split(',').collect();
    let column = |name: &str| heads.iter().position(|head| *head == name).unwrap();
    for row in rows {
        let cells: Vec<&str> = row.split(',').collect();
        let (letter, long) = (cells[column("cut")], cells[column("long_edge_mm")]);
        assert!(found.split_whitespace().any(|word| word == letter), "{letter}");
        if let Ok(long) = long.parse::<f64>() {
            let told = format!("{long:.1} mm");
            assert!(found.contains(&told), "{told} of {letter}");
        }
    }
}

/// A table that goes over pages loses no row and shows none twice: the boxes to tick, counted in the text of each page.
#[test]
fn every_glue_up_is_on_one_page() {
    let tall = cup("").replace("at 100 diameter 90", "at 460 diameter 90").replace("repeat 5", "repeat 25");
    let (world, compiled) = compile_text(&tall);
    let steps = compiled.complete().unwrap_or_else(|| panic!("{:?}", said(&world, &compiled))).plan.glue.steps.len();
    let (pdf, _) = sheet(&world, &compiled, None);
    let Some(found) = text("pdftotext", &pdf, &["-layout"], &["-"]) else { return };
    let pages: Vec<&str> = found.split('\u{c}').collect();
    let rows = |number: usize| {
        // Number, start, what: `12 11:43 ring-5 half 2: …`; the drawing of the day has no clock behind the number.
        let starts = |line: &&str| {
            let mut words = line.split_whitespace();
            words.next() == Some(number.to_string().as_str()) && words.next().is_some_and(|word| word.contains(':'))
        };
        pages.iter().map(|page| page.lines().filter(starts).count()).sum::<usize>()
    };
    assert!(steps > 60, "{steps}");
    for number in 1..=steps {
        assert_eq!(rows(number), 1, "glue-up {number} of {steps}");
    }
}

#[test]
fn its_fonts_are_embedded_and_its_pages_are_those_of_the_paper() {
    for (paper, size) in
        [(None, "595.276 x 841.89"), (Some(Paper::A4), "595.276 x 841.89"), (Some(Paper::Letter), "612 x 792")]
    {
        let (pdf, _) = sheet_of(&cup(""), paper);
        let Some(fonts) = text("pdffonts", &pdf, &[], &[]) else { return };
        let rows: Vec<&str> = fonts.lines().skip(2).collect();
        assert_eq!(rows.len(), 2, "{fonts}");
        for row in rows {
            // emb, sub, uni
            assert!(row.contains("RingwrightSans") && row.contains("yes yes yes"), "{row}");
        }
        let info = text("pdfinfo", &pdf, &[], &[]).unwrap();
        assert!(info.contains(size) && info.contains("Cup: shop sheet"), "{info}");
        assert!(!info.contains("CreationDate"), "{info}");
    }
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    assert_eq!(sheet_of(&cup(""), None), sheet_of(&cup(""), None));
}

#[test]
fn a_name_in_signs_that_the_font_lacks_is_no_trouble() {
    let (pdf, _) = sheet_of(&cup("").replace("\"Cup\"", "\"椀 Schüssel 🥣\""), None);
    let Some(found) = text("pdftotext", &pdf, &["-layout"], &["-"]) else { return };
    assert!(found.contains("□ Schüssel □"), "{found}");
}

/// A page in gray at 600 dots to the inch: width, height, dots.
fn gray(pdf: &[u8], page: usize) -> Option<(usize, usize, Vec<u8>)> {
    let page = page.to_string();
    let image = poppler("pdftoppm", pdf, &["-r", "600", "-gray", "-f", &page, "-l", &page], &[])?;
    let mut parts = image.splitn(4, |byte| *byte == b'\n');
    let (kind, size) = (parts.next().unwrap(), String::from_utf8(parts.next().unwrap().to_vec()).unwrap());
    assert_eq!((kind, parts.next()), (b"P5".as_slice(), Some(b"255".as_slice())));
    let (wide, tall) = size.split_once(' ').unwrap();
    Some((wide.parse().unwrap(), tall.parse().unwrap(), parts.next().unwrap().to_vec()))
}

/// The pages on which templates are.
fn templates(pdf: &[u8]) -> Option<Vec<usize>> {
    let found = text("pdftotext", pdf, &["-layout"], &["-"])?;
    Some(
        found
            .split('\u{c}')
            .enumerate()
            .filter(|(_, page)| page.contains("Template: "))
            .map(|(at, _)| at + 1)
            .collect(),
    )
}

const DOT: f64 = 25.4 / 600.0;

#[test]
fn templates_are_true_to_scale() {
    let (pdf, csv) = sheet_of(&cup(""), None);
    let Some(pages) = templates(&pdf) else { return };
    let Some((wide, tall, dots)) = gray(&pdf, pages[0]) else { return };
    let is_dark = |x: usize, y: usize| dots[y * wide + x] < 128;

    // Of each ruler the long line: the rows with one unbroken run of dark dots longer than 95 mm.
    let run = |y: usize| {
        let mut best = (0, 0);
        let mut from = None;
        for x in 0..=wide {
            match (x < wide && is_dark(x, y), from) {
                (true, None) => from = Some(x),
                (false, Some(start)) => {
                    if x - start > best.1 - best.0 {
                        best = (start, x);
                    }
                    from = None;
                }
                _ => {}
            }
        }
        best
    };
    let mm = |dots: usize| f64::from(u32::try_from(dots).unwrap()) * DOT;
    let mut rulers: Vec<(usize, f64)> = Vec::new();
    for y in tall / 2..tall {
        let (from, to) = run(y);
        if mm(to - from) > 95.0 && mm(to - from) < 110.0 && rulers.last().is_none_or(|(last, _)| mm(y - last) > 2.0) {
            rulers.push((y, mm(to - from)));
        }
    }
    // From the middle of the first tick to the middle of the last: a line's end has half a tick more at either side.
    let lengths: Vec<f64> = rulers.iter().map(|(_, long)| *long).collect();
    assert_eq!(lengths.len(), 2, "{lengths:?}");
    let tick = 0.6 / 72.0 * 25.4;
    for (long, wanted) in lengths.iter().zip([100.0, 4.0 * 25.4]) {
        assert!((long - tick - wanted).abs() < 0.1, "{long} for {wanted}");
    }

    // The ring of 12 whose first joint lies at 0° reaches to both sides as far as its corners: twice the long edge
    // over 2 sin 15°.
    let heads: Vec<&str> = csv.lines().next().unwrap().split(',').collect();
    let column = |name: &str| heads.iter().position(|head| *head == name).unwrap();
    let cut =
        csv.lines().skip(1).map(|row| row.split(',').collect::<Vec<_>>()).find(|row| row[column("kind")] == "segments");
    let long: f64 = cut.unwrap()[column("long_edge_mm")].parse().unwrap();
    let across = long / 15.0_f64.to_radians().sin();
    // Between the notes and the ruler, the leftmost and rightmost dark dots.
    let rows = tall / 4..rulers[0].0 - 600;
    let columns: Vec<usize> = (0..wide).filter(|x| rows.clone().any(|y| is_dark(*x, y))).collect();
    let measured = mm(columns[columns.len() - 1] + 1 - columns[0]);
    // A corner of 150° drawn with a line of 0.25 mm stands out by its miter at either side.
    let line = 0.25 / 75.0_f64.to_radians().sin();
    assert!((measured - line - across).abs() < 0.1, "{measured} for {across}");
}

#[test]
fn a_large_ring_is_tiled_and_every_sheet_has_its_ruler() {
    let large = cup("").replace("diameter 90", "diameter 330");
    let (pdf, _) = sheet_of(&large, None);
    let Some(pages) = templates(&pdf) else { return };
    let found = text("pdftotext", &pdf, &["-layout"], &["-"]).unwrap();
    assert!(found.contains("sheet 1 of 6 (row 1, column 1)"), "{pages:?}");
    let all: Vec<&str> = found.split('\u{c}').collect();
    for page in pages {
        for words in ["100 mm", "4 in", "Print at 100 % (actual size)", "Lay the crosses"] {
            assert!(all[page - 1].contains(words), "page {page}: {words}");
        }
    }
}

/// A slip of the units must not cost minutes and a thousand sheets.
#[test]
fn a_ring_that_nobody_glues_paper_for_is_told_in_figures() {
    let (pdf, _) = sheet_of(&cup("").replace("diameter 90", "diameter 9000"), None);
    let Some(pages) = templates(&pdf) else { return };
    let found = text("pdftotext", &pdf, &["-layout"], &["-"]).unwrap();
    let all: Vec<&str> = found.split('\u{c}').collect();
    for page in &pages {
        let page = all[page - 1];
        assert!(page.contains("sheets of paper, and up to 40 are") && page.contains("long edge"), "{page}");
    }
    assert!(!pages.is_empty() && !found.contains("sheet 1 of"), "{pages:?}");
}

#[test]
fn every_recipe_makes_one_with_nothing_outside_the_margins() {
    let mut number = 0;
    for entry in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes")).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let mut world = MapWorld::default();
        world.add("workshop.vessel", &fs::read_to_string(path.with_file_name("workshop.vessel")).unwrap());
        world.add(&name, &fs::read_to_string(&path).unwrap());
        let compiled = compile(&world, world.root(&name).unwrap());
        if compiled.complete().is_none() {
            assert_eq!(name, "workshop.vessel");
            continue;
        }
        number += 1;
        let (pdf, _) = sheet(&world, &compiled, None);
        assert!(pdf.starts_with(b"%PDF") && pdf.len() > 10_000, "{name}");
        let Some(boxes) = text("pdftotext", &pdf, &["-bbox"], &["-"]) else { continue };
        let (mut wide, mut tall) = (0.0, 0.0);
        let value = |line: &str, name: &str| {
            let (_, rest) = line.split_once(&format!("{name}=\"")).unwrap();
            rest.split_once('"').unwrap().0.parse::<f64>().unwrap()
        };
        for line in boxes.lines().map(str::trim) {
            if line.starts_with("<page") {
                (wide, tall) = (value(line, "width"), value(line, "height"));
            } else if line.starts_with("<word") {
                let inside = value(line, "xMin") > 36.0
                    && value(line, "xMax") < wide - 36.0
                    && value(line, "yMin") > 20.0
                    && value(line, "yMax") < tall - 20.0;
                assert!(inside, "{name}: {line}");
            }
        }
    }
    assert!(number > 20);
}
