//! The master: one question at a time, the next one only after the answer or its time-out.

use super::frame::Answer;
use super::{ModbusSpec, Question, REQUEST_BYTES};
use crate::values::{MAX_VALUES, Values};
use crate::{Fault, Sample};
use arrayvec::ArrayVec;

const HELD: usize = 768;

/// Asks a slave and reads its answers.
///
/// On a two-wire line a slave hears nothing while it sends, and bytes sent while it prepares an answer destroy that
/// answer. So nothing is asked before the answer came or timed out, and after a time-out the line is left alone for
/// the same time again. A late answer is then recognised as late, and never taken for the answer to another question,
/// from which nothing in the frame would distinguish it.
#[derive(Clone, Debug)]
pub struct Modbus {
    spec: ModbusSpec,
    questions: [Option<Question>; MAX_VALUES],
    /// The question asked last, or to ask next.
    at: usize,
    /// When this round of questions began.
    began_ms: Option<u64>,
    line: Line,
    held: ArrayVec<u8, HELD>,
    values: Values,
    fault: Option<Fault>,
}

/// The state of the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Line {
    Free,
    /// A question was asked at this time and has no answer yet.
    Asked(u64),
    /// Its answer timed out; it may still come.
    Late(u64),
}

impl Modbus {
    /// A master that has asked nothing yet.
    #[must_use]
    pub(crate) fn new(spec: ModbusSpec) -> Self {
        Self {
            spec,
            questions: spec.questions(),
            at: 0,
            began_ms: None,
            line: Line::Free,
            held: ArrayVec::new(),
            values: Values::new(),
            fault: None,
        }
    }

    /// See [`Decoder::ask`](crate::Decoder::ask).
    pub(crate) fn ask(&mut self, now_ms: u64) -> Option<[u8; REQUEST_BYTES]> {
        if self.ask_in_ms(now_ms) > 0 {
            return None;
        }
        match self.line {
            Line::Asked(_) => {
                self.fault = Some(self.why_no_answer());
                self.line = Line::Late(now_ms);
                self.held.clear();
                return None;
            }
            Line::Late(_) => self.go_on(),
            Line::Free => {}
        }
        if self.ask_in_ms(now_ms) > 0 {
            return None;
        }
        if self.at == 0 {
            self.began_ms = Some(now_ms);
        }
        self.line = Line::Asked(now_ms);
        self.held.clear();
        Some(self.question()?.frame(self.spec.slave))
    }

    /// See [`Decoder::ask_in_ms`](crate::Decoder::ask_in_ms).
    pub(crate) fn ask_in_ms(&self, now_ms: u64) -> u64 {
        let left = |since: u64, long: u16| (since + u64::from(long)).saturating_sub(now_ms);
        match (self.line, self.began_ms) {
            (Line::Asked(since) | Line::Late(since), _) => left(since, self.spec.answer_ms),
            (Line::Free, Some(began_ms)) if self.at == 0 => left(began_ms, self.spec.every_ms),
            (Line::Free, _) => 0,
        }
    }

    fn question(&self) -> Option<Question> {
        self.questions.get(self.at).copied().flatten()
    }

    /// The line is free for the next question.
    fn go_on(&mut self) {
        self.line = Line::Free;
        self.held.clear();
        self.at += 1;
        if self.question().is_none() {
            self.at = 0;
        }
    }

    /// See [`Decoder::received`](crate::Decoder::received). Unasked bytes are ignored, and so is anything longer than
    /// an answer.
    pub(crate) fn received(&mut self, bytes: &[u8]) -> usize {
        if self.line != Line::Free {
            let room = self.held.remaining_capacity();
            self.held.extend(bytes.iter().copied().take(room));
        }
        bytes.len()
    }

    /// See [`Decoder::forget`](crate::Decoder::forget).
    pub(crate) fn forget(&mut self) {
        self.held.clear();
        self.at = 0;
        self.began_ms = None;
        self.line = Line::Free;
        self.values.clear();
        self.fault = None;
    }

    /// See [`Decoder::next`](crate::Decoder::next).
    pub(crate) fn next(&mut self) -> Option<Result<Sample, Fault>> {
        if let Some(fault) = self.fault.take() {
            return Some(Err(fault));
        }
        if let Some(sample) = self.values.pop_at(0) {
            return Some(Ok(sample));
        }
        let answer = match (self.line, self.answer()?) {
            (Line::Free, _) => return None,
            (Line::Late(_), _) => Err(Fault::Late),
            (Line::Asked(_), answer) => answer,
        };
        self.go_on();
        match answer {
            Ok(values) => {
                self.values = values;
                self.values.pop_at(0).map(Ok)
            }
            Err(fault) => Some(Err(fault)),
        }
    }

    /// The answer to the question asked, wherever it begins.
    fn answer(&self) -> Option<Result<Values, Fault>> {
        let question = self.question()?;
        Some(match question.answer(self.spec.slave, &self.held)? {
            Answer::Exception(code) => Err(Fault::Exception(code)),
            Answer::Registers(data) => self.read(question, data),
        })
    }

    fn read(&self, question: Question, data: &[u8]) -> Result<Values, Fault> {
        let mut values = Values::new();
        for value in self.spec.read_by(question) {
            let at = usize::from(value.address - question.first) * 2;
            let number = value.number(data.get(at..).unwrap_or_default())?;
            // No more values were asked for than fit in a frame.
            let _ = values.try_push(Sample::bare(value.axis, number, value.unit));
        }
        Ok(values)
    }

    /// The fault to report when an answer has timed out.
    fn why_no_answer(&self) -> Fault {
        let Some(question) = self.question() else { return Fault::NoAnswer };
        let asked = question.frame(self.spec.slave);
        // Some adapters echo what was sent.
        let came = &self.held.strip_prefix(asked.as_slice()).unwrap_or(&self.held);
        if came.is_empty() {
            Fault::NoAnswer
        } else if question.was_damaged(self.spec.slave, came) {
            Fault::Check
        } else {
            Fault::OtherAnswer { bytes: came.len() }
        }
    }
}
