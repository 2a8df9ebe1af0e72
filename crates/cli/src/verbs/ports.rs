//! `ports`: which ports and instrument files there are, what a port sends, and a file for it.

use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use crate::view::wrap::wrap;
use crate::written::Holds;
use clap::Args;
use instrument::{Proposal, example_line, identify_stream, propose};
use quantity::shown::counted;
use serde::Serialize;
use session::gauges::{Connected, InFolder, in_folder};
use session::port::{Heard, ListedPort, PortSettings, ask, list_ports, overhear, read_as};
use session::{SessionError, each_line_shown, shown, write_new};
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::time::Duration;

/// Rates to try, the usual ones first.
const RATES: [u32; 8] = [9600, 115_200, 19_200, 4800, 38_400, 57_600, 2400, 1200];

#[derive(Debug, Args)]
pub struct Ports {
    /// Listen to this port for a while and say what it sends; any path may be given
    #[arg(long)]
    port: Option<String>,
    /// Where to look for instrument files
    #[arg(long, default_value = ".")]
    folder: PathBuf,
    /// Bits per second of the port; without it 9600 first, then other usual rates until something is understood
    #[arg(long, requires = "port", value_parser = clap::value_parser!(u32).range(50..=4_000_000))]
    baud: Option<u32>,
    /// Write the proposed instrument file here; nothing is replaced
    #[arg(long, requires = "port")]
    write: Option<PathBuf>,
    /// Seconds to listen
    #[arg(long, default_value_t = 2, requires = "port", value_parser = clap::value_parser!(u64).range(1..=60))]
    seconds: u64,
}

#[derive(Serialize)]
struct Answer {
    ports: Vec<ListedPort>,
    files: Vec<FileView>,
    unreadable: BTreeMap<String, String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    heard: Option<HeardView>,
}

#[derive(Serialize)]
struct FileView {
    file: String,
    name: String,
    dialect: &'static str,
    baud: u32,
    due: Option<String>,
}

#[derive(Serialize)]
struct HeardView {
    port: String,
    baud: u32,
    bytes: usize,
    frames: BTreeMap<&'static str, usize>,
    /// A line of an unknown dialect, to write a form for.
    example: Option<String>,
    /// Instrument files that read it, with their values and the last value.
    read_by: Vec<ReadBy>,
    /// Instruments that answer only when asked, asked by means of the files here.
    asked: Vec<AskedBy>,
    /// A file for what was heard, if none here reads it.
    proposal: Option<ProposalView>,
}

#[derive(Serialize)]
struct AskedBy {
    #[serde(flatten)]
    read: ReadBy,
    fault: Option<String>,
}

#[derive(Serialize)]
struct ProposalView {
    text: String,
    values: usize,
    written: Option<String>,
}

#[derive(Serialize)]
struct ReadBy {
    file: String,
    values: usize,
    last: Option<String>,
}

impl ReadBy {
    fn of(file: &str, heard: &Heard) -> Self {
        let last = heard.last.as_ref().map(|sample| sample.amount().to_string());
        Self { file: file.to_owned(), values: heard.samples, last }
    }
}

impl Ports {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        if let Some(path) = &self.write {
            Holds::Instrument.may_be_in(path, &[])?;
        }
        let InFolder { read: files, unreadable } = in_folder(&self.folder)?;
        let heard = self.port.as_deref().map(|port| self.hear(port, &files)).transpose()?;
        let answer = Answer {
            ports: list_ports(),
            files: files
                .iter()
                .map(|(file, connected)| FileView {
                    file: file.clone(),
                    name: connected.facts.name.clone(),
                    dialect: connected.dialect.word(),
                    baud: connected.settings.baud,
                    due: connected.facts.due.as_ref().map(ToString::to_string),
                })
                .collect(),
            unreadable: unreadable.into_iter().map(|(file, why)| (file, why.to_string())).collect(),
            heard,
        };
        show.done(|| text(&answer), &answer)
    }

    fn hear(&self, port: &str, files: &BTreeMap<String, Connected>) -> Result<HeardView, SessionError> {
        let Sent { settings, bytes } = self.overhear(port)?;
        let heard = identify_stream(&bytes);
        let frames = [
            ("jigtrue", heard.jigtrue),
            ("nmea", heard.nmea),
            ("nmea_unchecked", heard.nmea_unchecked),
            ("bcd", heard.bcd),
            ("modbus", heard.modbus),
            ("lines", heard.lines),
        ];
        let read_by: Vec<ReadBy> = files
            .iter()
            .map(|(file, connected)| ReadBy::of(file, &read_as(&bytes, &connected.dialect)))
            .filter(|read| read.values > 0)
            .collect();
        // An instrument that answers only when asked is silent so far. If another master is asking, it is not
        // interrupted.
        let asked = if bytes.is_empty() { Self::ask(port, files)? } else { Vec::new() };
        let wanted = self.write.is_some() || read_by.is_empty();
        let proposal = wanted.then(|| propose(&bytes, &settings)).flatten();
        let proposal = proposal.map(|proposal| self.keep(proposal)).transpose()?;
        if self.write.is_some() && proposal.is_none() {
            return Err(Refusal::NothingProposed.into());
        }
        Ok(HeardView {
            port: shown(port).into_owned(),
            baud: settings.baud,
            bytes: bytes.len(),
            frames: frames.into_iter().filter(|(_, count)| *count > 0).collect(),
            example: example_line(&bytes).map(|line| shown(line).into_owned()),
            read_by,
            asked,
            proposal,
        })
    }

    /// What comes, at the first rate at which it can be read.
    fn overhear(&self, port: &str) -> Result<Sent, SessionError> {
        let rates = self.baud.map_or_else(|| RATES.to_vec(), |baud| vec![baud]);
        let mut first = None;
        for baud in rates {
            let settings = PortSettings { baud, ..PortSettings::default() };
            let bytes = overhear(port, settings, Duration::from_secs(self.seconds))?;
            let heard = identify_stream(&bytes);
            let known = heard.jigtrue + heard.nmea + heard.bcd + heard.modbus + heard.lines > 0;
            let silent = bytes.is_empty();
            let sent = Sent { settings, bytes };
            if known {
                return Ok(sent);
            }
            first.get_or_insert(sent);
            if silent {
                break;
            }
        }
        Ok(first.ok_or(Refusal::NoRate)?)
    }

    fn ask(port: &str, files: &BTreeMap<String, Connected>) -> Result<Vec<AskedBy>, SessionError> {
        let mut asked = Vec::new();
        for (file, connected) in files {
            if !matches!(connected.dialect, instrument::DialectSpec::Modbus(_)) {
                continue;
            }
            let heard = ask(port, connected.settings, &connected.dialect)?;
            let fault = heard.fault.map(|fault| fault.to_string());
            asked.push(AskedBy { read: ReadBy::of(file, &heard), fault });
        }
        Ok(asked)
    }

    fn keep(&self, proposal: Proposal) -> Result<ProposalView, SessionError> {
        let Proposal { text, values } = proposal;
        if let Some(path) = &self.write {
            write_new(path, text.as_bytes())?;
        }
        let written = self.write.as_ref().map(|path| shown(&path.display().to_string()).into_owned());
        Ok(ProposalView { text: each_line_shown(&text).into_owned(), values, written })
    }
}

/// What a port sent, and its settings then.
struct Sent {
    settings: PortSettings,
    bytes: Vec<u8>,
}

fn text(answer: &Answer) -> String {
    let mut lines = Vec::new();
    match answer.ports.as_slice() {
        [] => lines.push("No serial ports found; you can still use --port PATH.".to_owned()),
        ports => lines.extend(ports.iter().map(|p| format!("port   {:<16} {}", shown(&p.port), p.what))),
    }
    for file in &answer.files {
        let due = file.due.as_ref().map(|due| format!(", check good until {due}")).unwrap_or_default();
        lines.push(format!(
            "file   {}: {}, speaks {} at {}{due}",
            shown(&file.file),
            shown(&file.name),
            file.dialect,
            file.baud
        ));
    }
    for why in answer.unreadable.values() {
        lines.push(format!("file   {why}"));
    }
    if answer.files.is_empty() && answer.unreadable.is_empty() {
        lines.push("There is no instrument file here.".to_owned());
    }
    if let Some(heard) = &answer.heard {
        lines.extend(heard_lines(heard));
    }
    lines.join("\n")
}

fn values(n: usize) -> String {
    counted(n, "value", "values")
}

/// Before what was heard.
const INDENT: &str = "       ";

fn heard_lines(heard: &HeardView) -> Vec<String> {
    let mut lines =
        vec![format!("heard  {} on {} at {}", counted(heard.bytes, "byte", "bytes"), heard.port, heard.baud)];
    for AskedBy { read, fault } in &heard.asked {
        let file = shown(&read.file);
        lines.push(match (&read.last, fault) {
            (Some(last), _) => format!("       asked by {file}: {}, the last is {last}", values(read.values)),
            (None, Some(fault)) => format!("       asked by {file}: {fault}"),
            (None, None) => format!("       asked by {file}: no value"),
        });
    }
    if heard.bytes == 0 {
        if heard.asked.iter().all(|by| by.read.values == 0) {
            lines.push(wrap(
                INDENT,
                "Nothing. Is it switched on and set to send? Some instruments send only when their button is \
                    pressed; a Modbus instrument answers only when asked: jigtrue instrument example modbus",
            ));
        }
        return lines;
    }
    for (dialect, count) in &heard.frames {
        let what = match *dialect {
            "jigtrue" => "lines of jigtrue's own protocol",
            "nmea" => "NMEA 0183 sentences",
            "nmea_unchecked" => {
                "NMEA 0183 sentences without a checksum, which are refused: set the instrument to send it"
            }
            "bcd" => "13-nibble frames",
            "modbus" => "Modbus RTU answers; another master is asking",
            _ => "other lines of text with a number in them",
        };
        lines.push(wrap(INDENT, &format!("{count} {what}")));
    }
    if let Some(example) = &heard.example {
        lines.push(format!("       for example: {example}"));
    }
    for by in &heard.read_by {
        let last = by.last.as_deref().unwrap_or("-");
        lines.push(format!(
            "       {} reads {} from it; the last is {last}",
            shown(&by.file),
            values(by.values)
        ));
    }
    if heard.frames.is_empty() {
        lines.push("       Unrecognised data; try --baud with the rate in its manual.".to_owned());
    } else if heard.read_by.is_empty() {
        lines.push("       No instrument file here reads it.".to_owned());
    }
    if let Some(proposal) = &heard.proposal {
        match &proposal.written {
            Some(path) => lines.push(wrap(
                INDENT,
                &format!(
                    "{path} is written; it reads {} from it. Check each line marked CHECK in the file.",
                    values(proposal.values)
                ),
            )),
            None => {
                lines.push(format!(
                    "       This file would read {} from it; --write FILE writes the file:\n",
                    values(proposal.values)
                ));
                lines.push(proposal.text.clone());
            }
        }
    }
    lines
}
