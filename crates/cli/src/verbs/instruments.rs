//! `instruments`: which ports and instrument files there are, and what a port sends.

use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use instrument::{example_line, identify_stream};
use serde::Serialize;
use session::gauges::{Connected, in_folder};
use session::port::{PortSettings, list_ports, overhear, read_as};
use session::{SessionError, shown};
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::time::Duration;

/// `instruments`
#[derive(Debug, Args)]
pub struct Instruments {
    /// Listen to this port for a while and say what it sends; any path may be given
    #[arg(long)]
    port: Option<String>,
    /// Where to look for instrument files
    #[arg(long, default_value = ".")]
    folder: PathBuf,
    /// Bits per second of the port
    #[arg(long, default_value_t = 9600)]
    baud: u32,
    /// Seconds to listen
    #[arg(long, default_value_t = 2, value_parser = clap::value_parser!(u64).range(1..=60))]
    seconds: u64,
}

#[derive(Serialize)]
struct Answer {
    format: u32,
    ports: Vec<PortView>,
    files: Vec<FileView>,
    unreadable: BTreeMap<String, String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    heard: Option<HeardView>,
}

#[derive(Serialize)]
struct PortView {
    port: String,
    what: String,
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
    /// Frames by dialect.
    frames: BTreeMap<&'static str, usize>,
    /// A line of no dialect known, to write a form for.
    example: Option<String>,
    /// Instrument files it reads by: values, and the last of them.
    read_by: Vec<ReadBy>,
}

#[derive(Serialize)]
struct ReadBy {
    file: String,
    values: usize,
    last: Option<String>,
}

impl Instruments {
    /// Looks, and listens.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let (files, unreadable) = in_folder(&self.folder)?;
        let heard = self.port.as_deref().map(|port| self.hear(port, &files)).transpose()?;
        let answer = Answer {
            format: 1,
            ports: list_ports().into_iter().map(|p| PortView { port: p.path, what: p.what }).collect(),
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
        show.answer(|| text(&answer), &answer)?;
        Ok(Exit::Done)
    }

    fn hear(&self, port: &str, files: &BTreeMap<String, Connected>) -> Result<HeardView, SessionError> {
        let settings = PortSettings { baud: self.baud, ..PortSettings::default() };
        let bytes = overhear(port, settings, Duration::from_secs(self.seconds))?;
        let heard = identify_stream(&bytes);
        let frames = [
            ("jigtrue", heard.jigtrue),
            ("nmea", heard.nmea),
            ("bcd", heard.bcd),
            ("modbus", heard.modbus),
            ("lines", heard.lines),
        ];
        let read_by = files
            .iter()
            .map(|(file, connected)| (file, read_as(&bytes, &connected.dialect)))
            .filter(|(_, read)| read.samples > 0)
            .map(|(file, read)| ReadBy {
                file: file.clone(),
                values: read.samples,
                last: read.last.map(|sample| sample.amount().to_string()),
            })
            .collect();
        Ok(HeardView {
            port: shown(port).into_owned(),
            baud: self.baud,
            bytes: bytes.len(),
            frames: frames.into_iter().filter(|(_, count)| *count > 0).collect(),
            example: example_line(&bytes).map(|line| shown(line).into_owned()),
            read_by,
        })
    }
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

fn heard_lines(heard: &HeardView) -> Vec<String> {
    let mut lines = vec![format!("heard  {} bytes on {} at {}", heard.bytes, heard.port, heard.baud)];
    if heard.bytes == 0 {
        lines.push(
            "       Nothing. Is it switched on and sending by itself? Some send only when their button is pressed; a Modbus \
             instrument speaks only when asked."
                .to_owned(),
        );
        return lines;
    }
    for (dialect, count) in &heard.frames {
        let what = match *dialect {
            "jigtrue" => "lines of jigtrue's own protocol",
            "nmea" => "NMEA 0183 sentences",
            "bcd" => "13-nibble frames",
            "modbus" => "Modbus RTU answers; another master is asking",
            _ => "other lines of text with a number in them",
        };
        lines.push(format!("       {count} {what}"));
    }
    if let Some(example) = &heard.example {
        lines.push(format!("       for example: {example}"));
    }
    for by in &heard.read_by {
        let last = by.last.as_deref().unwrap_or("-");
        lines.push(format!(
            "       {} reads {} values of it; the last is {last}",
            shown(&by.file),
            by.values
        ));
    }
    if heard.frames.is_empty() {
        lines.push("       Unrecognised data; try another --baud.".to_owned());
    } else if heard.read_by.is_empty() {
        lines.push("       No instrument file here reads it.".to_owned());
    }
    lines
}
