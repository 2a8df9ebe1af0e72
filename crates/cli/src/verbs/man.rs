//! `man`: the manual pages, made from the same definitions as `--help`.

use crate::args;
use crate::exit::Exit;
use crate::show::Show;
use clap::{Args, CommandFactory};
use serde::Serialize;
use session::{NotKnown, SessionError, write_whole};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Man {
    /// The verb whose page is wanted; without one, the program's own page
    verb: Option<String>,
    /// Write every page into this folder, as jigtrue.1, jigtrue-take.1 and so on
    #[arg(long, conflicts_with = "verb")]
    dir: Option<PathBuf>,
}

/// A page in roff, for `man -l`.
#[derive(Serialize)]
struct Page {
    name: String,
    roff: String,
}

#[derive(Serialize)]
struct Answer {
    pages: Vec<Page>,
}

impl Man {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let mut program = args::Args::command();
        program.build();
        let pages = match (&self.verb, &self.dir) {
            (Some(verb), _) => {
                let found = program.get_subcommands().find(|c| c.get_name() == verb);
                let found = found.ok_or_else(|| unknown(&program, verb))?;
                vec![page(found)?]
            }
            (None, None) => vec![page(&program)?],
            (None, Some(_)) => std::iter::once(page(&program))
                .chain(program.get_subcommands().filter(|c| !c.is_hide_set()).map(page))
                .collect::<Result<_, _>>()?,
        };
        let text = if let Some(dir) = &self.dir {
            for page in &pages {
                write_whole(&dir.join(&page.name), &[], page.roff.as_bytes())?;
            }
            format!("{} manual pages written to {}.\n", pages.len(), dir.display())
        } else {
            pages.iter().map(|p| p.roff.as_str()).collect()
        };
        show.done(|| text, &Answer { pages })
    }
}

fn page(command: &clap::Command) -> Result<Page, SessionError> {
    let name = command.get_display_name().unwrap_or_else(|| command.get_name()).to_owned();
    let man = clap_mangen::Man::new(command.clone()).title(name.clone()).manual("jigtrue");
    let mut roff = Vec::new();
    man.render(&mut roff).map_err(SessionError::because)?;
    Ok(Page { name: format!("{name}.1"), roff: String::from_utf8_lossy(&roff).into_owned() })
}

fn unknown(program: &clap::Command, verb: &str) -> NotKnown {
    NotKnown::word("verb", verb, program.get_subcommands().map(clap::Command::get_name))
}
