//! `preview`: the shop sheet in the browser, drawn anew at each save, for this machine alone.

mod board;
mod browser;
mod request;
mod server;
mod watch;

use std::net::{Ipv4Addr, TcpListener};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::thread;

use crate::compile::{Compiled, Options, compile_with};
use crate::finding::catalog;
use crate::finding::render::Tally;
use crate::output::{self, Drawn, Live};
use crate::plan::Asked;
use crate::search::Effort;

use super::args::{Output, Planning};
use super::disk::still_holds;
use super::terminal::{self, say};
use super::{DiskWorld, Failure, Outcome};

use board::Board;
use watch::Watch;

/// Where a browser that was left open finds the next preview again.
const USUAL_PORT: u16 = 4780;

/// Shows `recipe` until it is stopped from outside.
pub(super) fn run(
    recipe: &Path,
    port: Option<u16>,
    opens: bool,
    planning: Planning,
    output: Output,
) -> Result<Outcome, Failure> {
    if recipe == Path::new("-") {
        return Err(Failure::PreviewOfStdin);
    }
    let options = Options {
        asked: Asked { effort: Effort { factor: planning.effort, watch: None }, start: planning.start },
        ..Options::default()
    };
    let mut preview = Preview { recipe: recipe.to_owned(), options, last: None, drawn: None, version: 0 };
    // A name that is mistyped is told at once, before anything is served.
    DiskWorld::open_root(recipe)?;
    // Watched before it is read: a save in between is seen.
    let mut watch = Watch::new(recipe);
    let board = Arc::new(Board::default());
    preview.reads_anew();
    board.show(preview.version, preview.page());
    watch.also(&preview.places());

    let listener = listener(port)?;
    let port = listener.local_addr().map_err(|cause| cannot(port.unwrap_or(0), cause))?.port();
    let address = format!("http://127.0.0.1:{port}/");
    terminal::print(format!("{address}\n").as_bytes())?;
    say(&format!("{} as it is saved; Ctrl-C ends it", recipe.display()), output);
    let shown = Arc::clone(&board);
    thread::spawn(move || server::serve(&listener, port, &shown));
    if opens {
        browser::open(&address);
    }
    loop {
        watch.wait();
        if preview.is_as_shown() {
            continue;
        }
        if !preview.reads_anew() {
            continue;
        }
        board.show(preview.version, preview.page());
        watch.also(&preview.places());
        say(&preview.told(), output);
    }
}

/// A listener that this machine alone can reach.
fn listener(port: Option<u16>) -> Result<TcpListener, Failure> {
    let at = |port| TcpListener::bind((Ipv4Addr::LOCALHOST, port));
    match port {
        Some(port) => at(port).map_err(|cause| cannot(port, cause)),
        None => at(USUAL_PORT).or_else(|_| at(0)).map_err(|cause| cannot(USUAL_PORT, cause)),
    }
}

fn cannot(port: u16, cause: std::io::Error) -> Failure {
    if cause.kind() == std::io::ErrorKind::AddrInUse {
        return Failure::PortInUse { port };
    }
    Failure::CannotServe { address: format!("127.0.0.1:{port}"), cause }
}

/// A recipe, what was last read of it, and the last sheet that could be drawn.
struct Preview<'a> {
    recipe: PathBuf,
    options: Options<'a>,
    last: Option<Result<Read, String>>,
    drawn: Option<Drawn>,
    version: u64,
}

/// One reading of the recipe and all that it uses.
struct Read {
    world: DiskWorld,
    compiled: Compiled,
}

impl Preview<'_> {
    /// Reads the recipe; whether there is anything new in it or about it.
    fn reads_anew(&mut self) -> bool {
        let read = DiskWorld::open_root(&self.recipe).map(|(world, root)| {
            let compiled = compile_with(&world, root, &self.options);
            Read { world, compiled }
        });
        let read = read.map_err(|failure| failure.to_string());
        let is_new = match (&self.last, &read) {
            (Some(Ok(last)), Ok(now)) => {
                last.compiled.findings != now.compiled.findings || last.world.files() != now.world.files()
            }
            (Some(Err(last)), Err(now)) => last != now,
            (Some(Ok(_)), Err(_)) | (Some(Err(_)), Ok(_)) | (None, _) => true,
        };
        if is_new {
            self.version += 1;
            if let Ok(read) = &read
                && let Some(design) = read.compiled.complete()
            {
                self.drawn = Some(output::drawn(&design));
            }
        }
        self.last = Some(read);
        is_new
    }

    /// The page of what was read last.
    fn page(&self) -> String {
        let name = self.recipe.to_string_lossy();
        let Some(read) = &self.last else { return String::new() };
        let trouble = match read {
            Err(failure) => Some(format!("The recipe cannot be read: {failure}.")),
            Ok(read) if read.compiled.has_errors() => Some("The recipe has errors.".to_owned()),
            Ok(read) if read.compiled.complete().is_none() => {
                Some("The file has no vessel; it is for other recipes to use.".to_owned())
            }
            Ok(_) => None,
        };
        let (files, findings) = match read {
            Ok(read) => (read.world.files(), read.compiled.findings.as_slice()),
            Err(_) => (Vec::new(), &[][..]),
        };
        let live = Live { version: self.version, name: &name, files: &files, findings, trouble: trouble.as_deref() };
        output::live_page(self.drawn.as_ref(), &live)
    }

    /// Whether reading again would give nothing new.
    fn is_as_shown(&self) -> bool {
        match &self.last {
            Some(Ok(read)) => {
                // A file that was missed may be there now, and nobody knows where its folder would be.
                let misses = |code: &str| {
                    [catalog::USE_NOT_FOUND.name, catalog::USE_UNREADABLE.name, catalog::USE_OUTSIDE_PROJECT.name]
                        .contains(&code)
                };
                let is_whole = !read.compiled.findings.iter().any(|finding| misses(finding.code.name));
                is_whole
                    && read.world.files().iter().all(|file| {
                        let place = read.world.place(file.id).unwrap_or_else(|| PathBuf::from(&file.name));
                        still_holds(&place, &file.text).unwrap_or(false)
                    })
            }
            Some(Err(failure)) => DiskWorld::open_root(&self.recipe).is_err_and(|again| again.to_string() == *failure),
            None => false,
        }
    }

    /// Where the files are that were read.
    fn places(&self) -> Vec<PathBuf> {
        let Some(Ok(read)) = &self.last else { return Vec::new() };
        read.world.files().iter().filter_map(|file| read.world.place(file.id)).collect()
    }

    /// What it came to, in a line.
    fn told(&self) -> String {
        match &self.last {
            Some(Ok(read)) => format!("read again: {}", Tally::of(&read.compiled.findings)),
            Some(Err(failure)) => failure.clone(),
            None => String::new(),
        }
    }
}
