//! What stands on the page, and that nothing on it can do harm or ask for anything.

use std::collections::BTreeSet;

use super::super::super::shop_sheet::Block;
use super::super::write::{base64, escaped, id};
use super::super::{SCRIPT, STYLE, hash_of};
use super::sample::{NAME, model, sample_page, sheet};

#[test]
fn base64_is_that_of_the_standard() {
    // RFC 4648, section 10.
    for (bytes, text) in [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foobar", "Zm9vYmFy")] {
        assert_eq!(base64(bytes.as_bytes()), text);
    }
    assert_eq!(base64(&[0xff, 0xef, 0xbe]), "/+++");
}

#[test]
fn text_stays_text() {
    assert_eq!(escaped("<a b=\"'&'\">\0\u{202e}x"), "&lt;a b=&quot;&#39;&amp;&#39;&quot;&gt;\u{fffd}\u{fffd}x");
    assert_eq!(id("cut list.A"), "cut_20_list.A");
    assert_ne!(id("a b"), id("a_b"));
}

#[test]
fn every_chapter_and_block_is_on_the_page() {
    let sheet = sheet();
    let page = sample_page(&sheet, None);
    for chapter in &sheet.chapters {
        assert!(page.contains(&format!("<section class=\"chapter\" id=\"{}\"", chapter.name)), "{}", chapter.name);
        assert!(page.contains(&format!("<a href=\"#{}\">{}</a>", chapter.name, chapter.heading)));
    }
    let figures = sheet.chapters.iter().flat_map(|chapter| &chapter.blocks);
    let figures = figures.filter(|block| matches!(block, Block::Figure(..) | Block::Template(..))).count();
    assert_eq!(page.matches("<figure ").count(), figures);
    assert_eq!(page.matches("<svg").count(), figures);
    assert!(!page.contains("<?xml"), "a prolog inside a page");
    assert_eq!(page.matches("data-tick=").count() - SCRIPT.matches("data-tick=").count(), 3, "a box a row");
    assert!(page.contains("data-layers=\"body.ring-2\""));
    assert!(
        page.contains("<html lang=\"en\">") && page.contains("<main id=\"sheet\"") && page.contains("<nav aria-label")
    );
    let mut ids = BTreeSet::new();
    for rest in page.split(" id=\"").skip(1) {
        let id = rest.split('"').next().unwrap();
        assert!(ids.insert(id.to_owned()), "two of {id}");
    }
}

#[test]
fn a_name_that_would_do_harm_is_a_name() {
    let page = sample_page(&sheet(), Some(&model()));
    assert!(!page.contains("<script>document.title"));
    assert!(page.contains(&escaped(NAME)));
    assert!(page.contains(&format!("<title>{}</title>", escaped(NAME))));
    assert!(page.contains("&lt;b&gt;Not bold&lt;/b&gt;") && page.contains("C &quot;&lt;i&gt;&quot;"));
    // One for the model, one for the program.
    assert_eq!(page.matches("<script").count(), 2);
    assert_eq!(page.matches("</script>").count(), 2);
}

#[test]
fn nothing_is_fetched_and_nothing_else_may_run() {
    let page = sample_page(&sheet(), Some(&model()));
    let policy = format!(
        "content=\"default-src 'none'; script-src '{}'; style-src '{}'; img-src data:; base-uri 'none'; form-action 'none'\"",
        hash_of(SCRIPT),
        hash_of(STYLE)
    );
    assert!(page.contains(&policy));
    assert!(page.contains(&format!("<script>{SCRIPT}</script>")) && page.contains(&format!("<style>{STYLE}</style>")));
    let text = page.replace("http://www.w3.org/2000/svg", "");
    for sign in ["http:", "https:", "//cdn", "url(", "@import", "src=", " style=", " onclick=", "eval(", "innerHTML"] {
        assert!(!text.contains(sign), "{sign}");
    }
    for inner in [SCRIPT, STYLE] {
        assert!(!inner.contains("</"), "would end its element");
    }
}

#[test]
fn ticks_are_kept_for_one_design_and_the_same_sheet_gives_the_same_bytes() {
    let key = |page: &str| page.split("data-key=\"").nth(1).unwrap()[..16].to_owned();
    let first = sample_page(&sheet(), None);
    assert_eq!(first, sample_page(&sheet(), None));
    let mut other = sheet();
    if let Block::Table(table) = &mut other.chapters[1].blocks[1] {
        table.rows[0].cells[1] = "9".to_owned();
    }
    assert_ne!(key(&first), key(&sample_page(&other, None)));
    assert_eq!(key(&first), key(&sample_page(&sheet(), Some(&model()))), "a view does not lose them");
}

/// Contrast as WCAG 2.2 defines it; normal text must have 4.5 to 1.
#[test]
fn all_colors_of_text_are_told_from_their_grounds() {
    let mut grounds = 0;
    for theme in STYLE.split('{').filter(|block| block.contains("--ground: #") && block.contains("--danger: #")) {
        let color = |name: &str| {
            let hex = theme.split(&format!("--{name}: #")).nth(1).map(|rest| rest.split(';').next().unwrap()).unwrap();
            let digit = |at: usize| {
                let at = if hex.len() == 3 { at..=at } else { 2 * at..=2 * at + 1 };
                let text = &hex[at];
                f64::from(
                    u8::from_str_radix(&if text.len() == 1 { text.repeat(2) } else { text.to_owned() }, 16).unwrap(),
                )
            };
            let linear = |at: usize| {
                let share = digit(at) / 255.0;
                if share <= 0.04045 { share / 12.92 } else { libm::pow((share + 0.055) / 1.055, 2.4) }
            };
            0.2126 * linear(0) + 0.7152 * linear(1) + 0.0722 * linear(2)
        };
        let contrast = |a: f64, b: f64| (a.max(b) + 0.05) / (a.min(b) + 0.05);
        for ground in ["ground", "card", "mark"] {
            for ink in ["ink", "quiet", "accent", "danger", "warn"] {
                let found = contrast(color(ink), color(ground));
                assert!(found >= 4.5, "{ink} on {ground}: {found:.2}\n{theme}");
            }
        }
        assert!(contrast(color("accent-ink"), color("accent")) >= 4.5);
        grounds += 1;
    }
    assert_eq!(grounds, 4, "light, dark by the system, dark by choice, print");
}

#[test]
fn no_figure_is_torn_apart() {
    for (text, held) in [
        ("157.5 mm (6 13/64\")", "157.5\u{a0}mm (6\u{a0}13/64&quot;)"),
        ("12 of 20", "12 of 20"),
        ("S1 3/4", "S1\u{a0}3/4"),
        ("4 lids, 8 g", "4 lids, 8\u{a0}g"),
        ("ring 3 long", "ring 3 long"),
    ] {
        assert_eq!(super::super::write::words(text), held);
    }
}
