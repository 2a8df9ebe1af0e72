//! What can be typed after `jigtrue`.

use crate::verbs::{self, Verb};
use crate::which;
use clap::{ArgAction, Args as _, Command, CommandFactory, Parser, ValueEnum};
use std::ffi::OsString;

const AFTER: &str = "\
From a plan to a verdict, in five steps:

  jigtrue plan > wing.toml                  an example plan; edit it to be your wing
  jigtrue new wing.toml                     starts the log, wing.jigtrue
  jigtrue stage \"jig empty\"                 says what state the build is in
  jigtrue take level@tip-post f 0.1 a -0.1  two readings, as the instrument shows them
  jigtrue check                             what next, the closing gate, the profile

`jigtrue` alone shows the state of the wing and what to do next; `jigtrue take` guides
you through what is still wanted. `jigtrue demo` runs a whole invented job in a second
and leaves its log for you to look into.

LOG is the word that ends in .jigtrue, anywhere on the line; without one, the log that
JIGTRUE_LOG names, or the only log in the folder, which is then named.

Values are typed as you have them: 0.35, 0°21', -21'30\", 6.1 mm/m, 1:164, 3.2 mm,
5/64 in, 60 in-lb. The decimal mark is a point. Signs: incidence is positive nose up,
tilt along the span positive outboard end up, offsets positive aft and up. Facing: f
with the arrow toward the leading edge, a turned end for end; from both readings the
instrument's own zero error cancels.

Exit codes: 0 done, clear or within; 10 outside; 11 undecided, missing or stale;
1 could not be done; 2 not understood.

jigtrue measures and records. It does not approve. The kit maker's drawings and manual,
the local authority and a licensed person stand above it.";

#[derive(Clone, Copy, Debug, Default, ValueEnum)]
pub enum Colour {
    /// On a terminal that shows colours, unless NO_COLOR is set
    #[default]
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

/// Tells whether the wing in the jig is true, what to move if it is not, and when it may be skinned.
#[derive(Debug, Parser)]
#[command(name = NAME, version, after_help = AFTER, max_term_width = 90, disable_help_flag = true)]
pub struct Args {
    #[command(flatten)]
    pub shown: Shown,
    #[command(subcommand)]
    pub verb: Option<Verb>,
}

/// How the answer should be formatted, for every verb.
#[derive(Debug, Default, clap::Args)]
#[command(next_help_heading = "How the answer is shown", next_display_order = 100)]
pub struct Shown {
    /// One JSON document (`"format": 1`) instead of text
    #[arg(long, global = true)]
    pub json: bool,
    /// No characters beyond ASCII
    #[arg(long, global = true, hide_short_help = true)]
    pub ascii: bool,
    /// No remarks beside the answer
    #[arg(long, global = true, hide_short_help = true)]
    pub quiet: bool,
    /// When to colour marks
    #[arg(
        long,
        global = true,
        value_name = "WHEN",
        default_value = "auto",
        hide_default_value = true,
        hide_short_help = true
    )]
    pub color: Colour,
    /// Units to show values in, instead of the plan's: mm or in, deg or deg-min, N·m, in-lb or ft-lb, N, lbf or kgf
    #[arg(long, global = true, hide_short_help = true, value_name = "UNITS", value_parser = crate::units::read)]
    pub units: Option<crate::units::Wanted>,
    /// This page; `jigtrue help VERB` says everything, with examples
    #[arg(long, short, global = true, action = ArgAction::HelpShort)]
    pub help: Option<bool>,
}

/// The program's own name.
const NAME: &str = "jigtrue";

/// The command line for these words: with only the verb they name, or complete if they name none. Building every verb
/// takes as long as reading a log. Help, and messages about unknown words, need the complete one.
pub fn asked_for(words: &[OsString]) -> Command {
    let bare = Shown::augment_args(Command::new(NAME).disable_help_flag(true));
    match which::verb(words, &bare).and_then(verbs::alone) {
        Some(verb) => bare.subcommand(verb),
        None => Args::command(),
    }
}

#[cfg(test)]
mod tests;
