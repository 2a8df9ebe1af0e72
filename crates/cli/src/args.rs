//! What can be typed after `jigtrue`.

use crate::verbs::Verb;
use clap::Parser;

const AFTER: &str = "\
From a plan to a verdict, in five steps:

  jigtrue plan > wing.toml                        an example plan; edit it to be your wing
  jigtrue new wing.toml wing.jigtrue              starts the log
  jigtrue stage wing.jigtrue \"ribs on\"            says what state the build is in
  jigtrue take wing.jigtrue incidence@S1 2.1      a reading, as the instrument shows it
  jigtrue check wing.jigtrue                      profile, verdicts, the closing gate

`jigtrue check` also says which point to measure next. `jigtrue demo` runs a whole
invented job in a second and leaves its log for you to look into.

Values are typed as you have them: 0.35, 0°21', -21'30\", 6.1 mm/m, 1:164, 3.2 mm,
5/64 in, 60 in-lb. The decimal mark is a point. Signs: incidence is positive nose up,
tilt along the span positive outboard end up, offsets positive aft and up. Turn the
instrument end for end, take a second reading with --facing aft, and its own zero
error drops out.

Exit codes: 0 done, clear or within; 10 outside; 11 undecided, missing or stale;
1 could not be done; 2 not understood.

jigtrue measures and records. It does not approve. The kit maker's drawings and manual,
the local authority and a licensed person stand above it.";

/// Tells whether the wing in the jig is true, what to move if it is not, and when it may be skinned.
#[derive(Debug, Parser)]
#[command(name = "jigtrue", version, after_help = AFTER, max_term_width = 90)]
pub struct Args {
    /// One JSON document (`"format": 1`) in place of text
    #[arg(long, global = true)]
    pub json: bool,
    /// No characters beyond ASCII
    #[arg(long, global = true)]
    pub ascii: bool,
    #[command(subcommand)]
    pub verb: Verb,
}
