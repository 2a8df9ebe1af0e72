//! A whole round, a value a line: the terminal's side of [`bench::typing`].

use super::gauges::Gauges;
use super::{Take, said};
use crate::exit::Exit;
use crate::input::Input;
use crate::refusal::Refusal;
use crate::show::Show;
use crate::verbs::happen::Answer;
use crate::view::instrument::with_steps;
use crate::view::wrap::{wrap, wrap_hang};
use assess::expect::place;
use bench::Target;
use bench::typing::{Do, Done, Here, Typing, Untaken};
use quantity::shown::{capital, count};
use session::{Session, SessionError, Taken, shown};

/// The words that can be typed in place of a value.
const HELP: &str = "\
      Type what it shows: 2.15, 2°09', 37.5 mm/m, 5/64 in.
      b  back, to type it again   f, a  the other facing
      s  skip this place          S7    go to that place
      !  record what was asked    q     stop; all is on disk
      \"2.15 !\" records it unasked. Enter alone does nothing.";

/// Precedes everything said about a value.
const INDENT: &str = "      ";

pub struct Round<'a> {
    pub session: Session,
    pub take: &'a Take,
    pub show: &'a Show,
    pub input: Input,
    pub(super) typing: Typing,
    gauges: Gauges,
    /// The group announced last: its heading is not repeated.
    headed: Option<String>,
    pub first: Option<u64>,
    pub last: Option<u64>,
    new_round: bool,
}

/// How a walk along the points ended.
pub(super) enum Walked {
    /// Nothing is wanted any more.
    Through,
    /// The person stopped, or the input ended.
    Stopped,
}

impl<'a> Round<'a> {
    pub(super) fn new(session: Session, take: &'a Take, show: &'a Show) -> Self {
        let typing = Typing::new(session.plan(), &session.assessment());
        let gauges = Gauges::new(take.instrument.as_deref());
        let (input, new_round) = (Input::new(show), take.new_round);
        Self { session, take, show, input, typing, gauges, headed: None, first: None, last: None, new_round }
    }
}

impl Round<'_> {
    pub(super) fn begin(&mut self) {
        self.typing = Typing::new(self.session.plan(), &self.session.assessment());
        (self.headed, self.first, self.last) = (None, None, None);
    }

    /// Walks until nothing is wanted or the person stops.
    pub(super) fn walk(&mut self) -> Result<Walked, SessionError> {
        loop {
            let Some(Here { at, step }) = self.typing.at() else { return Ok(Walked::Through) };
            let target = step.target.clone();
            let replaced = match &step.done {
                Done::Taken { seq, text } if self.typing.replacing() => Some((*seq, text.clone())),
                _ => None,
            };
            self.heading(&target)?;
            let prompt = match replaced {
                Some((seq, text)) => format!(
                    "{INDENT}{} is {} (entry {seq}). New value, or Enter to keep it: ",
                    shown(&place(&target.point, target.facing)),
                    shown(&text)
                ),
                None => self.prompt(at, &target)?,
            };
            let Some(line) = self.input.line(&prompt, self.show)? else { return Ok(Walked::Stopped) };
            match self.typing.line(&line, self.session.plan()) {
                Do::Stop => return Ok(Walked::Stopped),
                Do::Take(take) => self.record(take)?,
                Do::Again => {}
                Do::Help => self.show.aside(HELP),
                Do::Skipped { target, values } => {
                    let values = count(values, "value is", "values are");
                    self.say(&format!(
                        "{} skipped; {values} still wanted there.",
                        place(&target.point, None)
                    ));
                }
                Do::Not(why) => self.say(&why.to_string()),
            }
        }
    }

    /// Records a value, or says why not.
    fn record(&mut self, take: Untaken) -> Result<(), SessionError> {
        match self.take_it(&take) {
            Ok(taken) => {
                self.typing.took(taken.entry.seq, &take.text);
                let line = said::in_round(&taken);
                if !line.is_empty() {
                    self.show.aside(&line);
                }
                Ok(())
            }
            Err(SessionError::Asks(question)) => {
                let again = match take.target.facing {
                    Some(facing) if self.has_half(&take.target) => format!(
                        "Type it again, {} for {} again, or ! to record {} anyway.",
                        if facing.turned().sign() > 0.0 { "f" } else { "a" },
                        place(&take.target.point, Some(facing.turned())),
                        take.text
                    ),
                    _ => format!("Type it again, or ! to record {} anyway.", take.text),
                };
                self.say(&format!("{question}. Not recorded. {again}"));
                self.typing.asks(take);
                Ok(())
            }
            Err(why) if why.is_refusal() => {
                // Below the message is what was typed, with a mark under the place that is meant.
                let why = why.to_string();
                let mut lines = why.lines();
                lines.next().into_iter().for_each(|line| self.say(line));
                lines.for_each(|line| self.show.aside(&format!("{INDENT}{}", shown(line))));
                Ok(())
            }
            Err(why) => Err(why),
        }
    }

    /// Whether the other facing of the place was taken in this round.
    fn has_half(&self, target: &Target) -> bool {
        let turned = target.facing.map(record::Facing::turned);
        self.typing.steps().iter().any(|step| {
            step.target.point == target.point
                && step.target.facing == turned
                && matches!(step.done, Done::Taken { .. })
        })
    }

    fn take_it(&mut self, take: &Untaken) -> Result<Taken, SessionError> {
        let mut reading =
            self.take.reading(take.target.point.to_string(), take.text.clone(), take.target.facing);
        reading.instrument = self.gauges.chosen(&self.session, &take.target)?;
        reading.new_round = self.new_round;
        reading.sure = take.sure;
        let taken = match take.replaces {
            Some(seq) => self.session.retake(seq, &reading, "typed wrong")?,
            None => self.session.take(reading)?,
        };
        self.new_round = false;
        self.first = self.first.or(Some(taken.entry.seq));
        self.last = Some(taken.entry.seq);
        Ok(taken)
    }

    /// From a pipe: each line is answered, and the first bad line ends it.
    pub(super) fn piped(&mut self) -> Result<Exit, SessionError> {
        let a = self.session.assessment();
        if a.stage.is_none() && !self.session.plan().stages.is_empty() {
            return Err(Refusal::NoStageBegun.into());
        }
        while let Some(line) = self.input.line("", self.show)? {
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            match self.typing.line(&line, self.session.plan()) {
                Do::Take(take) => match self.take_it(&take) {
                    Ok(taken) => {
                        self.typing.took(taken.entry.seq, &take.text);
                        let answer = Answer::of(&taken);
                        let gone =
                            take.replaces.map(|seq| format!("; in place of {seq}, which is withdrawn"));
                        self.show
                            .event(|| said::taken(&taken) + gone.as_deref().unwrap_or_default(), &answer)
                            .map_err(|why| crate::verbs::happen::unsaid(taken.entry.seq, why))?;
                    }
                    Err(why) => return Err(self.failed(why)),
                },
                Do::Stop if self.typing.at().is_none() => {
                    return Err(self.failed(Refusal::NothingWanted.into()));
                }
                Do::Stop => break,
                Do::Again | Do::Help | Do::Skipped { .. } => {}
                Do::Not(why) => return Err(self.failed(Refusal::NotTaken(why).into())),
            }
        }
        if self.input.number() == 0 {
            return Err(Refusal::NothingCameIn(self.typing.steps().len() as u64).into());
        }
        let left = self.typing.steps().iter().filter(|step| step.done == Done::Not).count();
        if left > 0 {
            self.show.remark(&format!(
                "{} taken; {} still wanted",
                self.typing.taken(),
                count(left, "value is", "values are")
            ));
        }
        Ok(Exit::Done)
    }

    /// A bad line: what is on disk, and how to continue.
    fn failed(&self, why: SessionError) -> SessionError {
        let n = self.input.number();
        let disk = match (self.first, self.last) {
            (Some(first), Some(last)) if first == last => format!("Entry {first} is on disk"),
            (Some(first), Some(last)) => format!("Entries {first} to {last} are on disk"),
            _ => "Nothing was recorded".to_owned(),
        };
        let keeps = match &why {
            SessionError::Asks(_) => " (a ! after the value keeps it)",
            _ => "",
        };
        let what = if self.first.is_some() { "; nothing after it was recorded" } else { "" };
        let go_on =
            format!("{disk}{what}. Correct line {n}{keeps}, then go on: tail -n +{n} FILE | jigtrue take");
        Refusal::Line { line: n, why: Box::new(why), go_on: wrap("  ", &go_on) }.into()
    }

    /// The round, and what can be typed.
    pub(super) fn head(&self) {
        let a = self.session.assessment();
        let steps = self.typing.steps().len() as u64;
        let stage = capital(a.stage.as_deref().unwrap_or("No stages"));
        let by = self.take.by.as_deref().or(self.session.who()).unwrap_or_default();
        let text =
            format!("{}: {} to take. Read by {}.", shown(&stage), count(steps, "value", "values"), shown(by));
        self.show.aside(&wrap("", &text));
        self.show
            .aside(&wrap("", "Type what the instrument shows. b back  s skip  S7 go there  ? help  q stop"));
    }

    /// Announces the instrument and the facings of a group of points, before its first value.
    fn heading(&mut self, target: &Target) -> Result<(), SessionError> {
        let group = Gauges::group(target);
        if self.headed.as_ref() == Some(&group) {
            return Ok(());
        }
        self.gauges.choose(&self.session, target, &mut self.input, self.show)?;
        let instrument = self.gauges.instrument(&self.session, target)?;
        let of_group =
            |step: &&bench::typing::Step| Gauges::group(&step.target) == group && step.done == Done::Not;
        let places: Vec<&str> =
            self.typing.steps().iter().filter(of_group).map(|step| step.target.point.place()).collect();
        let range = match (places.first(), places.last()) {
            (Some(first), Some(last)) if first != last => format!("{first} to {last}"),
            _ => target.point.place().to_owned(),
        };
        let row = target.point.kind().row();
        let spar = target.point.spar().map(|spar| format!(" of {spar}")).unwrap_or_default();
        let mut text = format!("{}{spar}, {range}", capital(row.words));
        if let Some(i) = &instrument {
            let round = self.session.round(Some(&i.name));
            text.push_str(&format!(": {}, round {round}", with_steps(i, target.quantity)));
        }
        text.push('.');
        if target.point.kind().reverses() {
            text.push_str(&format!(" Both ways. Forward: {}.", row.arrow.forward()));
        }
        self.show.aside("");
        self.show.aside(&wrap("", &shown(&text)));
        self.headed = Some(group);
        Ok(())
    }

    /// ` 1/24 S1 forward, about +2.2: `
    fn prompt(&self, at: usize, target: &Target) -> Result<String, SessionError> {
        let of = self.typing.steps().len();
        let width = of.to_string().len();
        let instrument = self.gauges.instrument(&self.session, target)?;
        let about = self.session.expected(&target.point, target.facing, instrument.as_ref());
        let about = about.filter(|_| !self.blind()).map(|words| {
            // A level shows degrees; for anything else, name the unit of a bare number.
            format!(", {}", words.trim_end_matches('°'))
        });
        let name = shown(&place(&target.point, target.facing)).into_owned();
        Ok(format!("{:>width$}/{of} {name}{}: ", at + 1, about.unwrap_or_default()))
    }

    /// Whether the expected value is hidden: on request, or for a person who signed this log as inspector and reads
    /// independently.
    fn blind(&self) -> bool {
        let who = self.take.by.as_deref().or(self.session.who());
        let inspects = |e: &record::Entry| {
            matches!(&e.what, record::What::Signed(s)
                if record::inspects(&s.capacity) && Some(s.who.as_str()) == who)
        };
        self.take.blind || (!self.take.expected && self.session.entries().iter().any(inspects))
    }

    pub(super) fn stopped(&self) {
        let (taken, of) = (self.typing.taken(), self.typing.steps().len());
        let next = self.typing.steps().iter().find(|step| step.done == Done::Not);
        let on = next.map(|step| {
            format!(" jigtrue take goes on at {}.", shown(&place(&step.target.point, step.target.facing)))
        });
        let disk = if taken == 0 { "" } else { ", all on disk" };
        let text = format!("Stopped. {taken} of {of} taken{disk}.{}", on.unwrap_or_default());
        self.show.aside(&wrap("", &text));
    }

    pub fn say(&self, text: &str) {
        self.show.aside(&wrap_hang(INDENT, INDENT, &shown(text)));
    }
}
