//! What is kept from one day to the next: recent logs, looks, whether the cautions were read.

use eframe::egui::Theme;
use std::fmt::Write as _;
use std::path::PathBuf;
use window::model::Recent;

/// Most logs remembered.
const MOST: usize = 8;

/// What is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Keep {
    /// Its file; none to keep nothing.
    file: Option<PathBuf>,
    pub recent: Vec<Recent>,
    pub theme: Option<Theme>,
    pub scale: f32,
    pub cautions_read: bool,
}

impl Default for Keep {
    fn default() -> Self {
        Self { file: None, recent: Vec::new(), theme: None, scale: 1.0, cautions_read: false }
    }
}

fn file() -> Option<PathBuf> {
    let set = |name| std::env::var_os(name).filter(|v| !v.is_empty()).map(PathBuf::from);
    let base = set("XDG_CONFIG_HOME")
        .or_else(|| set("APPDATA"))
        .or_else(|| set("HOME").map(|h| h.join(".config")))?;
    Some(base.join("jigtrue").join("window"))
}

impl Keep {
    /// Reads it; what cannot be read is as at the first start.
    pub fn load() -> Self {
        let file = file();
        let text = file.as_deref().and_then(|f| session::read_plan_text(f).ok());
        Self { file, ..text.map_or_else(Self::default, |t| Self::parse(&t)) }
    }

    fn parse(text: &str) -> Self {
        let mut keep = Self::default();
        for line in text.lines() {
            let mut parts = line.split('\t');
            match (parts.next(), parts.next(), parts.next()) {
                (Some("cautions"), Some("read"), _) => keep.cautions_read = true,
                (Some("theme"), Some("light"), _) => keep.theme = Some(Theme::Light),
                (Some("theme"), Some("dark"), _) => keep.theme = Some(Theme::Dark),
                (Some("scale"), Some(scale), _) => keep.scale = scale.parse().unwrap_or(1.0),
                (Some("log"), Some(path), wing) => {
                    let wing = wing.unwrap_or_default().to_owned();
                    keep.recent.push(Recent { path: path.to_owned(), wing });
                }
                _ => {}
            }
        }
        keep.recent.truncate(MOST);
        keep
    }

    fn text(&self) -> String {
        let mut out = String::new();
        if self.cautions_read {
            out.push_str("cautions\tread\n");
        }
        match self.theme {
            Some(Theme::Light) => out.push_str("theme\tlight\n"),
            Some(Theme::Dark) => out.push_str("theme\tdark\n"),
            None => {}
        }
        let _ = writeln!(out, "scale\t{}", self.scale);
        for r in &self.recent {
            let _ = writeln!(out, "log\t{}\t{}", r.path, r.wing.replace(['\t', '\n'], " "));
        }
        out
    }

    /// Writes it; a folder that cannot be written only means that nothing is remembered.
    pub fn save(&self) {
        let Some(file) = &self.file else { return };
        if let Some(folder) = file.parent()
            && std::fs::create_dir_all(folder).is_ok()
        {
            let _ = session::write_whole(file, &[], self.text().as_bytes());
        }
    }

    /// Puts a log first among the recent ones.
    pub fn opened(&mut self, path: &str, wing: &str) {
        if path.contains(['\t', '\n']) {
            return;
        }
        self.recent.retain(|r| r.path != path);
        self.recent.insert(0, Recent { path: path.to_owned(), wing: wing.to_owned() });
        self.recent.truncate(MOST);
    }
}
