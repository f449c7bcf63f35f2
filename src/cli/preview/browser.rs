//! The browser of the platform.

use std::process::{Command, Stdio};
use std::{env, thread};

/// Opens `address` where there is a browser to open. Where there is none, whoever reads the address opens it.
pub(super) fn open(address: &str) {
    let mut command = if cfg!(target_os = "macos") {
        Command::new("open")
    } else if cfg!(windows) {
        let mut command = Command::new("rundll32");
        command.arg("url.dll,FileProtocolHandler");
        command
    } else {
        // Without a screen the opener would start a browser of text in a terminal that nobody gave it.
        let has_screen = |name: &str| env::var_os(name).is_some_and(|value| !value.is_empty());
        if !has_screen("DISPLAY") && !has_screen("WAYLAND_DISPLAY") {
            return;
        }
        Command::new("xdg-open")
    };
    command.arg(address).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    if let Ok(mut child) = command.spawn() {
        // So that it does not stay as a dead process; how it ends is its own affair.
        thread::spawn(move || child.wait());
    }
}
