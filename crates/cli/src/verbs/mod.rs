//! The verbs, one file each: what was typed, and the answer.

mod advise;
mod backup;
mod bores;
mod check;
mod compare;
mod completions;
mod decide;
mod demo;
mod entries;
mod explain;
mod export;
mod fit;
mod form;
mod happen;
mod import;
mod instrument;
mod level;
mod listen;
mod man;
mod new;
mod plan;
mod ports;
mod ranges;
mod repeat;
mod replan;
mod rework;
mod series;
mod sheet;
mod sign;
mod spacing;
mod square;
mod stage;
mod straight;
mod symmetry;
mod table;
mod take;
mod tape;
mod torque;
mod travel;
mod undo;
mod verify;
mod watch;
mod wing;

use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use clap::{Args, Command, Subcommand};
use session::SessionError;
use std::ffi::OsStr;

/// The verbs that show nothing in the requested units, and why: an option is obeyed or refused.
const OWN_UNITS: [(&str, &str); 11] = [
    ("sheet", "a sheet is in the units of its plan, or it could not be made again and compared"),
    ("export", "an export names the unit of each column"),
    ("fit", "its numbers are in the units of the table"),
    ("repeat", "its numbers are in the units of the table"),
    ("decide", "its numbers are in the unit they are typed in"),
    ("new", NO_VALUES),
    ("verify", NO_VALUES),
    ("backup", NO_VALUES),
    ("ports", "an instrument is shown in its own unit"),
    ("completions", NO_VALUES),
    ("man", NO_VALUES),
];

const NO_VALUES: &str = "it shows no values";

/// Declares the verbs from one list: what each is for, its name, and what can be typed after it.
macro_rules! verbs {
    ($($(#[$about:meta])* $verb:ident = $name:literal, $form:ty;)*) => {
        #[derive(Debug, Subcommand)]
        pub enum Verb {
            $($(#[$about])* #[command(name = $name)] $verb($form),)*
        }

        /// The command of the verb with this name alone; `None` if there is none.
        pub fn alone(name: &OsStr) -> Option<Command> {
            let form = match name.to_str()? {
                $($name => <$form as Args>::augment_args(Command::new($name)),)*
                _ => return None,
            };
            Some(form)
        }

        impl Verb {
            const fn name(&self) -> &'static str {
                match self {
                    $(Self::$verb(_) => $name,)*
                }
            }
        }

        /// # Errors
        /// If it could not be done.
        pub fn run(verb: Verb, show: &Show) -> Result<Exit, SessionError> {
            if let Some((verb, why)) = OWN_UNITS.iter().find(|(name, _)| show.has_units() && *name == verb.name()) {
                return Err(Refusal::UnitsNotShown { verb, why }.into());
            }
            match verb {
                $(Verb::$verb(verb) => verb.run(show),)*
            }
        }
    };
}

verbs! {
    /// Print an example plan, the plan in force, or what changed it
    Plan = "plan", plan::Plan;
    /// Start a log from a plan
    New = "new", new::New;
    /// Begin a stage of the build; the readings it disturbs become stale
    Stage = "stage", stage::Stage;
    /// Type readings: one, several or a whole round; each is on disk when this answers
    Take = "take", take::Take;
    /// Record readings from an instrument on a port, guided along the points still wanted
    Listen = "listen", listen::Listen;
    /// Watch a value on a port for drift, for hours
    Watch = "watch", watch::Watch;
    /// Record a table of readings (CSV), all or nothing
    Import = "import", import::Import;
    /// Print a blank form of a stage to fill in, as a page or as CSV
    Form = "form", form::Form;
    /// Withdraw your last entry
    Undo = "undo", undo::Undo;
    /// Withdraw entries, with a reason; they stay in the log
    Withdraw = "withdraw", undo::Withdraw;
    /// List what is in the log
    Entries = "entries", entries::Entries;
    /// Record a move of a support or foot
    Move = "move", happen::Move;
    /// Say what was worked on; its readings become stale
    Rework = "rework", rework::Rework;
    /// Take up the log of a wing from its jig into that of the aeroplane
    Wing = "wing", wing::Wing;
    /// Leave an item open on purpose, close it, or carry it past the gate
    OpenItem = "open-item", happen::OpenItem;
    /// Write a remark into the log
    Note = "note", happen::Note;
    /// Replace the plan, with a reason
    Replan = "replan", replan::Replan;
    /// Show the profile, the verdicts, what changed and the closing gate
    Check = "check", check::Check;
    /// Say what to move, which way and by how much
    Advise = "advise", advise::Advise;
    /// Enter an instrument from its file, or record a check of one
    Instrument = "instrument", instrument::Instrument;
    /// List ports and instrument files, say what a port sends, and propose a file for it
    #[command(alias = "instruments")]
    Ports = "ports", ports::Ports;
    /// Compare two stages, or left and right
    Compare = "compare", compare::Compare;
    /// What many wings of one kind teach: spread, control limits, creep, drift
    Series = "series", series::Series;
    /// Sign the log as it is
    Sign = "sign", sign::Sign;
    /// Write the inspection sheet (PDF/A) or the profile (SVG)
    Sheet = "sheet", sheet::Sheet;
    /// Say whether the log is as it was written
    Verify = "verify", verify::Verify;
    /// Write every entry as CSV or JSON Lines
    Export = "export", export::Export;
    /// Copy the log while it is in use
    Backup = "backup", backup::Backup;
    /// Fit a polynomial or several columns to a table by least squares
    Fit = "fit", fit::Fit;
    /// Straightness of a table of offsets, or of a level walk
    Straight = "straight", straight::Straight;
    /// Level from reversal pairs in a table
    Level = "level", level::Level;
    /// Squareness from two diagonals
    Square = "square", square::Square;
    /// The best straight shaft through bores in a table
    Bores = "bores", bores::Bores;
    /// Verdict on a value with uncertainty against limits
    Decide = "decide", decide::Decide;
    /// Distances in a table against their design, at 20 °C
    Spacing = "spacing", spacing::Spacing;
    /// What a torque wrench is set to, with an extension and the nut's drag
    Torque = "torque", torque::Torque;
    /// Travel of a control surface, from a level or a length
    Travel = "travel", travel::Travel;
    /// Correct what a steel tape shows for pull, sag and temperature
    Tape = "tape", tape::Tape;
    /// Left against right: yaw and offset from distances in a table
    Symmetry = "symmetry", symmetry::Symmetry;
    /// Repeat study: instrument, persons and points from a table
    Repeat = "repeat", repeat::Repeat;
    /// Print the script with which a shell completes verbs, logs and points
    Completions = "completions", completions::Completions;
    /// Print a manual page, or write them all
    Man = "man", man::Man;
    /// Play an invented job through, and leave its log here
    Demo = "demo", demo::Demo;
}
