//! What surrounds a log: making one, the people, the folders, the ports.

use super::super::{device, listing};
use super::Desk;
use session::Session;
use session::importing::Importing;
use session::nearby::is_there;
use std::path::{Path, PathBuf};
use window::model::{Import, Person};

impl Desk {
    pub(super) fn create(&mut self, plan: &Path, log: &Path) {
        let who = &self.model.who.name;
        if who.is_empty() {
            return self.wrong_words("Put your name at the bench first.".to_owned());
        }
        match Session::create(plan, log, Some(who)) {
            Ok(session) => self.begin(session),
            Err(why) => self.wrong(&why),
        }
    }

    pub(super) fn new_log(&mut self, plan: &str, folder: &Path, name: &str) {
        if self.model.who.name.is_empty() {
            return self.wrong_words("Put your name at the bench first.".to_owned());
        }
        let to = folder.join(format!("{name}.toml"));
        let log = folder.join(format!("{name}.jigtrue"));
        if is_there(&to) || is_there(&log) {
            self.wrong_words(format!(
                "{} or its log is there already; give the wing another name or choose another folder.",
                to.display()
            ));
            return;
        }
        match session::write_whole(&to, &[], plan.as_bytes()) {
            Ok(()) => self.create(&to, &log),
            Err(why) => self.wrong(&why),
        }
    }

    pub(super) fn set_who(&mut self, who: Person) {
        if let Some(session) = &mut self.session {
            session.set_who(&who.name);
        }
        self.keep.at_the_bench(&who);
        self.keep.save();
        self.model.people.clone_from(&self.keep.people);
        self.model.who = who;
    }

    pub(super) fn look_again(&mut self) {
        self.model.recent = self.keep.recent.iter().map(listing::recent).collect();
    }

    /// Lists a folder; an empty path means the folder of the open log, or the one the program was started in.
    pub(super) fn list(&mut self, path: String, files: window::action::Files) {
        let log = self.session.as_ref().and_then(|s| s.path().parent().map(|p| p.display().to_string()));
        let path = match (path.is_empty(), log.filter(|p| !p.is_empty())) {
            (false, _) => path,
            (true, Some(log)) => log,
            (true, None) => self.model.folder.clone(),
        };
        match listing::folder(&path, files, &self.model.folder) {
            Ok(listing) => self.model.listing = Some(listing),
            Err(why) => {
                self.wrong_words(format!("{path} cannot be listed: {why}"));
                self.model.listing = Some(window::model::Listing { folder: path, ..Default::default() });
            }
        }
    }

    /// Lists the ports, the last used first; the instruments of the log; and the instrument files beside it.
    pub(super) fn list_ports(&mut self) {
        self.model.ports = session::port::list_ports().into_iter().map(|p| p.port).collect();
        if !self.keep.port.is_empty() {
            self.model.ports.retain(|p| *p != self.keep.port);
            self.model.ports.insert(0, self.keep.port.clone());
        }
        let Some(session) = &self.session else { return };
        self.model.gauges = session.instruments().into_keys().collect();
        let folder = device::folder_of(session);
        if let Ok(found) = session::gauges::in_folder(folder) {
            self.model.gauges.extend(found.read.into_keys().map(|f| folder.join(f).display().to_string()));
        }
    }

    pub(super) fn demo(&mut self) {
        let log = Path::new(&self.model.folder).join(session::demo::LOG);
        if is_there(&log) {
            self.open(&log);
            return;
        }
        let Some(case) = session::demo::CASES.first() else { return };
        match session::demo::play(case, &log, &mut |_, _| Ok(())) {
            Ok(session) => {
                drop(session);
                self.open(&log);
            }
            Err(why) => self.wrong(&why),
        }
    }

    pub(super) fn demo_from_empty(&mut self) {
        let Some(case) = session::demo::CASES.first() else { return };
        let folder = PathBuf::from(&self.model.folder);
        let free = |n: u32| if n < 2 { "demo-wing".to_owned() } else { format!("demo-wing-{n}") };
        let taken = |name: &str| {
            ["toml", "jigtrue"].iter().any(|end| is_there(&folder.join(format!("{name}.{end}"))))
        };
        if let Some(name) = (1..100).map(free).find(|n| !taken(n)) {
            self.new_log(case.plan, &folder, &name);
        }
    }

    pub(super) fn keep_up_import(&mut self) {
        let Some(importing) = &self.importing else { return };
        match importing.done() {
            None => self.model.import = Some(so_far(importing)),
            Some(done) => {
                (self.importing, self.model.import) = (None, None);
                match done {
                    Ok(ack) => self.say(ack),
                    Err(why) => self.wrong(&why),
                }
            }
        }
    }
}

pub(super) fn so_far(importing: &Importing) -> Import {
    let session::importing::SoFar { lines, share, stopping } = importing.so_far();
    Import { table: importing.table().display().to_string(), lines, share, stopping }
}
