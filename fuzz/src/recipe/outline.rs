//! The outside and the wall of a vessel of a given height.

use std::fmt::Write as _;

use super::super::script::Script;
use super::{Frame, Meets, size};

/// `outside …` and what says the wall.
pub fn outline(script: &mut Script<'_>, frame: &Frame, high: f64) -> String {
    let at = |share: f64| frame.show(high * share);
    let across = |radius: f64| frame.show(2.0 * radius);
    let foot = frame.radius;
    // The higher, the further it may lean; a joint wants an upright wall.
    let lean = if frame.lid.is_jointed() { 0.0 } else { size(script, 16).min(high / 6.0) };
    let rim = foot + lean;
    let wall = format!("  wall {}\n", frame.show(frame.wall));
    let kind = script.below(if frame.lid.is_jointed() { 4 } else { 9 });
    let mut text = String::from("  outside ");
    match kind {
        1 => {
            let _ =
                writeln!(text, "{{\n    at 0 diameter {}\n    at {} diameter {}", across(foot), at(1.0), across(rim));
            let molding = script.one_of(&["bead", "cove"]);
            let _ = writeln!(text, "    {molding} at {}  tall {}\n  }}", at(0.5), frame.show(8.0));
        }
        2 => {
            let _ = writeln!(
                text,
                "{{\n    at 0 diameter {0}\n    at {1} diameter {0}\n    foot diameter {2} tall {3}\n  }}",
                across(foot),
                at(1.0),
                across(foot - 3.0),
                frame.show(5.0)
            );
        }
        3 => {
            let scale = if frame.is_inch { 25.4 } else { 1.0 };
            let round = |mm: f64| (mm / scale * 1e4).round() / 1e4;
            let path = format!(
                "M {0} 0 C {1} {2} {1} {3} {4} {5}",
                round(foot),
                round(foot + lean * 0.6),
                round(high * 0.3),
                round(high * 0.6),
                round(rim),
                round(high)
            );
            let _ = writeln!(text, "path \"{path}\"");
        }
        4 | 5 => {
            let belly = across(foot + lean + size(script, 6).min(high / 10.0));
            let _ = writeln!(
                text,
                "smooth {{\n    at 0 diameter {}\n    at {} diameter {belly}\n    at {} diameter {}\n  }}",
                across(foot),
                at(0.5),
                at(1.0),
                across(rim)
            );
        }
        6 => {
            let _ = writeln!(
                text,
                "{{\n    at 0 diameter {}\n    at {} diameter {} round {}\n    at {} diameter {}\n  }}",
                across(foot),
                at(0.4),
                across(rim),
                frame.show(4.0),
                at(1.0),
                across(rim)
            );
        }
        7 => {
            // A step: two points at one height.
            let _ = writeln!(
                text,
                "{{\n    at 0 diameter {0}\n    at {1} diameter {0}\n    at {1} diameter {2}\n    at {3} diameter {2}\n  }}",
                across(foot),
                at(0.6),
                across(foot + 3.0),
                at(1.0)
            );
        }
        _ => {
            let _ = writeln!(text, "{{ at 0 diameter {}  at {} diameter {} }}", across(foot), at(1.0), across(rim));
        }
    }
    if frame.lid.is_jointed() {
        return text + &wall;
    }
    match script.below(5) {
        3 => text + &format!("  wall {} at base .. {} at rim\n", frame.show(frame.wall + 2.0), frame.show(frame.wall)),
        4 if frame.lid == Meets::None && kind == 0 => {
            let inside = |share: f64, more: f64| across(foot + lean * share - frame.wall - more);
            let floor = frame.floor / high;
            text + &format!(
                "  inside {{ at {} diameter {}  at {} diameter {} }}\n",
                frame.show(frame.floor),
                inside(floor, 3.0),
                at(1.0),
                inside(1.0, 0.0)
            )
        }
        _ => text + &wall,
    }
}
