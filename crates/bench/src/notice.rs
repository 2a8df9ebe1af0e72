//! Reports of a board about itself: its identity, and its answers to questions.

use crate::{Bench, Out, Said, Zero, Zeroed};
use instrument::{Notice, Outcome};

impl Bench {
    pub(crate) fn notice(&mut self, notice: &Notice, out: &mut Vec<Out>) {
        match notice {
            Notice::Identity { name, number, firmware } => {
                out.push(Out::Say(Said::Hears {
                    name: name.as_str().to_owned(),
                    number: number.as_str().to_owned(),
                    firmware: firmware.as_str().to_owned(),
                }));
                let wanted = self.device.wanted_instead_of(number.as_str()).map(str::to_owned);
                self.signal.wrong = wanted.as_ref().map(|_| number.as_str().to_owned());
                if let Some(wanted) = wanted {
                    // Its first values came before it reported its identity.
                    self.restart();
                    self.broken();
                    if let Some(watching) = &mut self.watching {
                        watching.discard();
                    }
                    out.push(Out::Say(Said::Wrong { here: number.as_str().to_owned(), wanted }));
                }
            }
            Notice::Answer { outcome, detail, .. } => {
                self.asked_ms = None;
                match outcome {
                    Outcome::Done => {
                        self.set_up_again();
                        // The flag that samples carry from now on is not news.
                        self.zeroed = None;
                        out.push(Out::Say(Said::Zeroed(Zeroed::Set)));
                    }
                    Outcome::Refused | Outcome::Unknown => {
                        let detail = detail.as_str().to_owned();
                        out.push(Out::Say(Said::Refused { outcome: *outcome, detail }));
                    }
                }
                self.restart();
            }
            Notice::Status { .. } => {}
        }
    }

    /// The instrument was set up again: its zero is different.
    pub(crate) fn set_up_again(&mut self) {
        (self.zero, self.second_zero, self.new_round) = (Zero::Unknown, Zero::Unknown, true);
        if let Some(watching) = &mut self.watching {
            watching.set_up_again();
        }
        if let Some(level) = &mut self.level {
            level.set_up_again();
        }
    }
}
