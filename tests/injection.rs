//! Texts of a recipe that would be more than text elsewhere: in a terminal, a page, a drawing, a table, a calendar.

#![cfg(unix)]
#![allow(clippy::unwrap_used)]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

use std::fs;

use crate::cli_support::Bench;

/// What a name could try: markup, scripts, formulas of a spreadsheet, links, other lines, entities, placeholders.
const NAMES: [&str; 14] = [
    "<script>alert(1)</script>",
    "</script><script>alert(1)</script>",
    "\\\" onload=alert(1) x=\\\"",
    "' onmouseover='alert(1)",
    "]]><!--<svg onload=alert(1)>",
    "&lt;b&gt; &amp; &#0; &nbsp;",
    "=HYPERLINK(0,1)",
    "+1+1",
    "@SUM(A1)",
    "-2+3\t|x",
    "[x](javascript:alert(1)) ![y](http://z.example/y)",
    "a, b; c: d\\\\nEND:VCALENDAR",
    "../../../etc/passwd",
    "{{name}} ${name} %s %n $(id) `id`",
];

/// The bowl of `new` with this text wherever a recipe can have one: its name, why a finding is accepted.
fn recipe(bench: &Bench, text: &str) -> String {
    let starter = bench.text("bowl.vessel");
    let name = starter.lines().find(|line| line.starts_with("vessel ")).unwrap();
    let named = starter.replacen(name, &format!("vessel \"{text}\" {{\n  accept ring because \"{text}\""), 1);
    // Something that is accepted for that reason.
    assert!(named.contains("stagger half"), "{named}");
    named.replacen("stagger half", "stagger none", 1)
}

#[test]
fn a_text_stays_a_text_in_every_document() {
    let bench = Bench::new();
    bench.run(&["new", "bowl"]).says(0, &[]);
    for (at, text) in NAMES.iter().enumerate() {
        bench.file("evil.vessel", recipe(&bench, text));
        let out = format!("out-{at}");
        let ran = bench.run(&["build", "evil.vessel", "-o", &out, "--start", "2027-03-01"]).says(0, &[]);
        assert!(!ran.out.contains('\u{1b}') && !ran.err.contains('\u{1b}'));
        // Names of files come from the program alone.
        let plain = |name: &String| {
            name.trim_start_matches('.')
                .bytes()
                .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || b".-".contains(&byte))
        };
        let names = bench.names(&out);
        assert!(names.len() > 20 && names.iter().all(plain), "{names:?}");
        for name in &names {
            let bytes = bench.bytes(&format!("{out}/{name}"));
            let Ok(content) = String::from_utf8(bytes) else { continue };
            let shown = format!("{text:?} in {name}");
            match name.rsplit('.').next().unwrap() {
                "svg" => picture(&content, &shown),
                "html" => page(&content, &shown),
                "csv" => table(&content, &shown),
                "json" | "sarif" => drop(serde_json::from_str::<serde_json::Value>(&content).expect(&shown)),
                "ics" => calendar(&content, &shown),
                "md" => markdown(&content, text, &shown),
                _ => {}
            }
        }
        let design: serde_json::Value = serde_json::from_str(&bench.text(&format!("{out}/design.json"))).unwrap();
        let meant = text.replace("\\\"", "\"").replace("\\\\", "\\");
        assert_eq!(design["recipe"]["name"], meant, "and nothing of it is lost");
    }
}

/// Script elements of a page that has no text of anybody.
const SCRIPTS: usize = 2;

/// Whatever reads it finds no script, no handler, nothing from elsewhere.
fn picture(content: &str, shown: &str) {
    resvg::usvg::Tree::from_str(content, &resvg::usvg::Options::default()).expect(shown);
    let tags = tags(content);
    for tag in &tags {
        let lower = tag.to_ascii_lowercase();
        assert!(!lower.starts_with("script") && !handler(&lower) && !leads_to_script(&lower), "{shown}: <{tag}>");
    }
}

fn page(content: &str, shown: &str) {
    // The page's own: the model as data, and what it does.
    let (opened, closed) = (content.matches("<script").count(), content.matches("</script>").count());
    assert_eq!((opened, closed), (SCRIPTS, SCRIPTS), "{shown}");
    for tag in tags(&without_scripts(content)) {
        let lower = tag.to_ascii_lowercase();
        assert!(!handler(&lower) && !leads_to_script(&lower), "{shown}: <{tag}>");
    }
    assert!(content.contains("Content-Security-Policy") && !content.contains("unsafe-"), "{shown}");
}

/// A page without what stands in its own script elements; one that a text brought would be left with its words.
fn without_scripts(content: &str) -> String {
    let mut parts = content.split("<script");
    let first = parts.next().unwrap().to_owned();
    parts.fold(first, |text, part| text + part.split_once("</script>").map_or(part, |(_, rest)| rest))
}

/// The insides of everything between angle brackets; brackets within quotes do not count.
fn tags(content: &str) -> Vec<String> {
    let (mut tags, mut open, mut quote) = (Vec::new(), None::<String>, None);
    for letter in content.chars() {
        match (&mut open, quote) {
            (None, _) if letter == '<' => open = Some(String::new()),
            (Some(tag), Some(mark)) => {
                quote = (letter != mark).then_some(mark);
                tag.push(letter);
            }
            (Some(tag), None) if letter == '>' => tags.push(std::mem::take(tag)),
            (Some(tag), None) => {
                quote = matches!(letter, '"' | '\'').then_some(letter);
                tag.push(letter);
            }
            (None, _) => {}
        }
        if letter == '>' && quote.is_none() {
            open = None;
        }
    }
    tags
}

/// Whether a tag has an attribute that runs something: `on…=` outside of quotes.
fn handler(tag: &str) -> bool {
    let outside: String = tag.split('"').step_by(2).collect();
    outside.split_whitespace().any(|word| word.starts_with("on") && word.contains('='))
}

/// Whether a link or an address of a tag is a script.
fn leads_to_script(tag: &str) -> bool {
    ["href=", "src=", "action="].iter().any(|name| {
        let values = tag.split(name).skip(1).map(|rest| rest.trim_start_matches(['"', '\'']));
        values.into_iter().any(|value| value.trim_start().starts_with("javascript:"))
    })
}

/// No cell that a spreadsheet would reckon with.
fn table(content: &str, shown: &str) {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(content.as_bytes());
    for row in reader.records() {
        for cell in &row.expect(shown) {
            let is_formula =
                cell.starts_with(['=', '+', '@', '\t']) || (cell.starts_with('-') && cell.parse::<f64>().is_err());
            assert!(!is_formula, "{shown}: {cell:?}");
        }
    }
}

/// One calendar, whose lines are those that it should have.
fn calendar(content: &str, shown: &str) {
    let calendar: icalendar::Calendar = content.parse().expect(shown);
    assert!(!calendar.components.is_empty());
    for word in ["BEGIN:VCALENDAR", "END:VCALENDAR"] {
        let lines = content.lines().filter(|line| line.trim_end() == word).count();
        assert_eq!(lines, 1, "{shown}: {word}");
    }
    assert!(
        content.lines().all(|line| line.starts_with(' ')
            || line
                .split([':', ';'])
                .next()
                .is_some_and(|name| name.bytes().all(|byte| byte.is_ascii_uppercase() || byte == b'-'))),
        "{shown}"
    );
}

/// Its marks stand behind a backslash or in code: no link, no picture, no element.
fn markdown(content: &str, text: &str, shown: &str) {
    let bare = content.replace("\\<", "").replace("\\[", "").replace("\\]", "");
    for mark in ["<script", "](javascript", "![y](", "<svg", "<!--"] {
        if text.contains(mark) {
            assert!(
                !bare.contains(mark),
                "{shown}: {mark}: {}",
                bare.lines().find(|line| line.contains(mark)).unwrap()
            );
        }
    }
}

/// What moves the cursor, colors or turns round never gets into a recipe; what the terminal shows of it is shown as signs.
#[test]
fn what_a_terminal_would_obey_is_refused_and_shown() {
    let bench = Bench::new();
    bench.run(&["new", "bowl"]).says(0, &[]);
    for sign in ["\u{1b}[2J", "\u{7}", "\u{9b}31m", "\u{202e}", "\u{2066}", "\r", "\u{0}", "\u{7f}"] {
        bench.file("evil.vessel", recipe(&bench, &format!("a{sign}b")));
        for args in [
            &["check", "evil.vessel"][..],
            &["check", "evil.vessel", "--format", "short"],
            &["build", "evil.vessel"],
            &["fmt", "--diff", "evil.vessel"],
        ] {
            let ran = bench.run(args);
            let told = format!("{}{}", ran.out, ran.err);
            let obeyed = |letter: char| matches!(letter, '\u{0}'..='\u{8}' | '\u{b}'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
            assert!(!told.contains(obeyed), "{args:?} of {sign:?}: {told:?}");
            assert_eq!(ran.code, Some(1), "{args:?} of {sign:?}: {told:?}");
        }
    }
    // So are the names of files, which are not ours to refuse.
    let name = "a\u{1b}[31m\u{202e}.vessel";
    fs::write(bench.path(name), "no-such 1\n").unwrap();
    for format in ["human", "short", "narrated"] {
        let ran = bench.run(&["check", name, "--format", format]);
        assert!(!format!("{}{}", ran.out, ran.err).contains(['\u{1b}', '\u{202e}']), "{format}: {ran:?}");
    }
}

#[test]
fn a_folders_name_cannot_steer_the_terminal() {
    let bench = Bench::new();
    bench.run(&["new", "jar"]).says(0, &[]);
    let ran = bench.run(&["build", "jar.vessel", "-o", "a\u{1b}[31m\nb"]).says(0, &["documents in a?[31m b"]);
    assert!(!ran.err.contains('\u{1b}'), "{:?}", ran.err);
}
