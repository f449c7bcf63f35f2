//! What is fitted into a stack: the joint of a lid, and inserts.

use std::fmt::Write as _;

use super::super::script::Script;
use super::layers::Stack;
use super::{Frame, KERF, Meets, WOODS, size};

/// `joint …`, and the place where a stack is sawn apart.
pub fn joint(script: &mut Script<'_>, frame: &Frame, stack: &Stack) -> String {
    let fit = script.one_of(&["", "  fit slip", "  fit loose", "  fit jam", "  fit 0.2 mm"]);
    let joint = |words: &str, long: f64| format!("  joint {words}  long {}{fit} }}\n", frame.show(long));
    match frame.lid {
        Meets::None | Meets::Flat => String::new(),
        Meets::TenonOnBody(long) => joint("tenon { on body", long),
        Meets::TenonOnLid(long) => joint("tenon { on lid", long),
        Meets::Inset(long) => joint("inset {", long),
        Meets::Over(long) => joint("over {", long),
        Meets::Thread(long) => {
            let pitch = script.one_of(&["16 tpi", "20 tpi", "1.5 mm"]);
            format!("  joint thread {{ on body  pitch {pitch}  turns 2  long {} }}\n", frame.show(long))
        }
        Meets::Parted(tenon) => {
            let parted = format!("  parted at {}  kerf {}\n", frame.show(stack.parted_at), frame.show(KERF));
            parted + &tenon.map(|long| joint("tenon { on body", long)).unwrap_or_default()
        }
    }
}

/// `insert …`, as many as there is room for.
pub fn inserts(script: &mut Script<'_>, frame: &Frame, stack: &Stack) -> String {
    let mut text = String::new();
    let mut put = |name: &str, wood: &str, what: String| {
        let _ = writeln!(text, "  insert {name} {{\n    wood {wood}\n    {what}\n  }}");
    };
    let has_lid = frame.lid != Meets::None;
    let on_lid = if has_lid { script.below(3) } else { 0 };
    if on_lid == 2 {
        let (wide, long) = (frame.show(8.0), frame.show(4.0 + size(script, 2)));
        let shows = format!("shows diameter {} tall {}", frame.show(20.0), frame.show(24.0));
        put("knob", script.one_of(&WOODS), format!("into lid top\n    tenon diameter {wide} long {long}\n    {shows}"));
    }
    if on_lid == 1 {
        let size = format!("diameter {} thick {}", frame.show(24.0), frame.show(3.0));
        put("crown", script.one_of(&WOODS), format!("into lid top\n    medallion {size}"));
    }
    if script.below(5) == 4 {
        let size = format!("diameter {} thick {}", frame.show(25.0), frame.show(3.0));
        put("year", script.one_of(&WOODS), format!("into body base\n    plug {size}"));
    }
    if let Some((height, segment)) = stack.ring.filter(|_| script.below(6) == 5) {
        let tenon = format!("tenon diameter {} long {}", frame.show(5.0), frame.show(2.0));
        let place = format!("into body side at {} facing {}°", frame.show(height), segment / 2.0);
        put("pin", script.one_of(&WOODS), format!("{place}\n    {tenon}"));
    }
    if frame.lid == Meets::None && script.below(6) == 5 {
        let _ = writeln!(
            text,
            "  insert glass {{ into body inside  liner diameter {} tall {} }}",
            frame.show(frame.radius - frame.wall),
            frame.show(30.0)
        );
    }
    if script.below(6) == 5 {
        let _ = writeln!(
            text,
            "  mount body {{ block european-beech thick {}  faceplate {} thick {}  screws {} }}",
            frame.show(26.0),
            frame.show(75.0),
            frame.show(6.0),
            frame.show(20.0)
        );
    }
    text
}
