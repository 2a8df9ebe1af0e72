//! What is kept from one day to the next: who is at the bench, recent logs, port and instrument, appearance.

use eframe::egui::Theme;
use std::fmt::Write as _;
use std::path::PathBuf;
use window::Looks;
use window::model::{Person, Role};

/// The most logs, and the most people, that are remembered.
const MOST: usize = 8;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptLog {
    pub path: String,
    /// The wing's name when it was last open.
    pub wing: String,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Keep {
    /// Its file; `None` to keep nothing.
    file: Option<PathBuf>,
    pub recent: Vec<KeptLog>,
    pub looks: Looks,
    pub cautions_read: bool,
    pub who: Option<Person>,
    pub people: Vec<Person>,
    pub port: String,
    pub instrument: String,
}

fn file() -> Option<PathBuf> {
    let set = |name| std::env::var_os(name).filter(|v| !v.is_empty()).map(PathBuf::from);
    let base = set("XDG_CONFIG_HOME")
        .or_else(|| set("APPDATA"))
        .or_else(|| set("HOME").map(|h| h.join(".config")))?;
    Some(base.join("jigtrue").join("window"))
}

fn role(word: Option<&str>) -> Role {
    Role::ALL.into_iter().find(|r| Some(r.word()) == word).unwrap_or_default()
}

impl Keep {
    /// Reads the file; what cannot be read is as at the first start.
    pub fn load() -> Self {
        file().map_or_else(Self::default, Self::kept_in)
    }

    pub fn kept_in(file: PathBuf) -> Self {
        let text = session::read_plan_text(&file).ok();
        Self { file: Some(file), ..text.map_or_else(Self::default, |t| Self::parse(&t)) }
    }

    fn parse(text: &str) -> Self {
        let mut keep = Self::default();
        for line in text.lines() {
            let mut parts = line.split('\t');
            let (first, second, third) = (parts.next(), parts.next(), parts.next());
            let on = second == Some("on");
            match (first, second) {
                (Some("cautions"), Some("read")) => keep.cautions_read = true,
                (Some("theme"), Some("light")) => keep.looks.theme = Some(Theme::Light),
                (Some("theme"), Some("dark")) => keep.looks.theme = Some(Theme::Dark),
                (Some("scale"), Some(scale)) => keep.looks.scale = scale.parse().unwrap_or(1.0),
                (Some("tone"), Some(_)) => keep.looks.tone = on,
                (Some("turned"), Some(_)) => keep.looks.turned = on,
                (Some("blind"), Some(_)) => keep.looks.blind = on,
                (Some("pairs"), Some(_)) => keep.looks.pairs = on,
                (Some("port"), Some(port)) => {
                    keep.port = port.to_owned();
                    keep.instrument = third.unwrap_or_default().to_owned();
                }
                (Some("person"), Some(name)) => {
                    keep.people.push(Person { name: name.to_owned(), role: role(third) });
                }
                (Some("who"), Some(name)) => {
                    keep.who = Some(Person { name: name.to_owned(), role: role(third) });
                }
                (Some("log"), Some(path)) => {
                    let wing = third.unwrap_or_default().to_owned();
                    keep.recent.push(KeptLog { path: path.to_owned(), wing });
                }
                _ => {}
            }
        }
        keep.recent.truncate(MOST);
        keep.people.truncate(MOST);
        keep
    }

    fn text(&self) -> String {
        let plain = |t: &str| t.replace(['\t', '\n', '\r'], " ");
        let on = |b: bool| if b { "on" } else { "off" };
        let mut out = String::new();
        if self.cautions_read {
            out.push_str("cautions\tread\n");
        }
        match self.looks.theme {
            Some(Theme::Light) => out.push_str("theme\tlight\n"),
            Some(Theme::Dark) => out.push_str("theme\tdark\n"),
            None => {}
        }
        let l = &self.looks;
        let _ = writeln!(out, "scale\t{}\ntone\t{}\nturned\t{}", l.scale, on(l.tone), on(l.turned));
        let _ = writeln!(out, "blind\t{}\npairs\t{}", on(l.blind), on(l.pairs));
        if !self.port.is_empty() {
            let _ = writeln!(out, "port\t{}\t{}", plain(&self.port), plain(&self.instrument));
        }
        for p in &self.people {
            let _ = writeln!(out, "person\t{}\t{}", plain(&p.name), p.role.word());
        }
        if let Some(p) = &self.who {
            let _ = writeln!(out, "who\t{}\t{}", plain(&p.name), p.role.word());
        }
        for r in &self.recent {
            let _ = writeln!(out, "log\t{}\t{}", r.path, plain(&r.wing));
        }
        out
    }

    /// Writes the file. If the folder cannot be written, nothing is remembered, and that is all.
    pub fn save(&self) {
        if let Some(file) = &self.file {
            let _ = session::write_with_folder(file, self.text().as_bytes());
        }
    }

    /// Puts a log first among the recent ones.
    pub fn opened(&mut self, path: &str, wing: &str) {
        if path.contains(['\t', '\n', '\r']) {
            return;
        }
        self.recent.retain(|r| r.path != path);
        self.recent.insert(0, KeptLog { path: path.to_owned(), wing: wing.to_owned() });
        self.recent.truncate(MOST);
    }

    pub fn at_the_bench(&mut self, who: &Person) {
        match self.people.iter_mut().find(|p| p.name == who.name) {
            Some(known) => known.role = who.role,
            None => self.people.push(who.clone()),
        }
        if self.people.len() > MOST {
            self.people.remove(0);
        }
        self.who = Some(who.clone());
    }
}

#[cfg(test)]
mod tests;
