//! The bench: settings, boards at hand, boards for sale, clamps and hours.

use std::fmt::Write as _;

use super::super::script::Script;
use super::{Frame, size};

/// `shop { … }`, or nothing.
pub fn shop(script: &mut Script<'_>, frame: &Frame) -> String {
    if script.below(3) == 0 {
        return String::new();
    }
    let mut text = String::from("shop {\n");
    let mut say = |script: &mut Script<'_>, line: &str| {
        if script.below(3) == 2 {
            let _ = writeln!(text, "  {line}");
        }
    };
    let kerf = frame.show(0.8 + size(script, 2));
    say(script, &format!("kerf {kerf}"));
    let hold = frame.show(60.0 + size(script, 80));
    say(script, &format!("hold {hold}"));
    say(script, &format!("sanding {}  allowance {}", frame.show(0.3), frame.show(2.5)));
    let glue = script.one_of(&["pva-d2", "pva-d4", "polyurethane", "epoxy-fast", "hide-hot"]);
    say(script, &format!("glue {glue}"));
    let (clamps, cauls) = (1 + script.below(4), 1 + script.below(3));
    say(script, &format!("clamps {clamps}"));
    say(script, &format!("cauls {cauls}"));
    let opens = script.below(16);
    let closes = opens + 3 + script.below(6);
    say(script, &format!("hours {opens} .. {closes}"));
    say(script, "days-off [sat sun]");
    say(script, "currency \"EUR\"");
    say(script, "moisture 8%mc  temperature 18 degC");
    say(script, "speeds 200 rpm .. 3000 rpm");
    say(script, &format!("swing {}", frame.show(400.0)));
    say(script, &format!("jointing {}  end-trim {}", frame.show(2.0), frame.show(20.0)));
    say(script, &format!("band-clamp {} .. {}  count 2", frame.show(40.0), frame.show(420.0)));
    say(script, "angle-error 0.05°  length-error 0.08 mm  tilt 47°");
    if script.below(2) == 1 {
        let _ = writeln!(text, "  boards {{\n{}  }}", boards(script, frame, false));
    }
    if script.below(3) == 2 {
        let _ = writeln!(text, "  for-sale {{\n{}  }}", boards(script, frame, true));
    }
    text + "}\n"
}

/// Boards that are large enough for most of what is made of them; what they lack is told.
fn boards(script: &mut Script<'_>, frame: &Frame, is_for_sale: bool) -> String {
    let mut text = String::new();
    for wood in ["maple", "walnut", "cherry"] {
        let (thick, wide) = (30.0 + size(script, 30), 140.0 + size(script, 90));
        let long = 700.0 + 4.0 * size(script, 250);
        let _ =
            write!(text, "    {wood} thick {} wide {} long {}", frame.show(thick), frame.show(wide), frame.show(long));
        if is_for_sale {
            let price = 8 + script.below(40);
            let _ = write!(text, " price {price}.50{}", script.one_of(&["", " per board-foot", " per liter"]));
        } else {
            let _ = write!(text, " count {}", 1 + script.below(4));
        }
        text += script.one_of(&["", " rough"]);
        if script.below(3) == 2 {
            let knot = 200.0 + size(script, 200);
            let _ = write!(text, " avoid {} .. {}", frame.show(knot), frame.show(knot + 35.0));
        }
        text.push('\n');
    }
    text
}
