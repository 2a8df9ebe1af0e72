//! Many logs, as many at a time as there are processors: each is opened and judged at the end of one stage, and none
//! counts twice.

use super::Session;
use crate::refusal::Refusal;
use crate::{SessionError, nearby, shown};
use assess::Because;
use assess::series::{NotCounted, NotCountedWhy, Wing, WingLog};
use record::Plan;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::ScopedJoinHandle;
use thiserror::Error;

/// The number of an entry and its hash.
type Head = (u64, String);

pub(super) struct OneLog {
    pub name: String,
    pub plan: Plan,
    heads: Vec<Head>,
    wing: Result<OneWing, WhyNot>,
}

/// The same while it is open.
pub(super) struct OpenLog {
    pub one: OneLog,
    pub session: Session,
}

pub(super) struct OneWing {
    /// Its wing at the end of the stage.
    pub wing: Result<Wing, NotCountedWhy>,
    /// That stage; `None` for a plan without stages.
    pub stage: Option<String>,
}

/// Why a log is left out of a series, on one line.
#[derive(Debug, Error)]
pub(super) enum WhyNot {
    /// It could not be opened or judged; its name stands beside it.
    #[error("{}", one_line(.name, .why))]
    Failed {
        name: String,
        #[source]
        why: Box<SessionError>,
    },
    #[error("the same log as {}, or a state of it", shown(.0))]
    Seen(String),
    #[error("its closing stage has another name; name a stage that all have, with --stage")]
    OtherStage,
    #[error(transparent)]
    NotCounted(#[from] NotCountedWhy),
}

impl WhyNot {
    /// The same beside the log's name.
    pub fn of(self, log: &str) -> NotCounted {
        let why = match self {
            Self::NotCounted(why) => why,
            other => NotCountedWhy::NotTaken(Because::new(other)),
        };
        NotCounted { log: log.to_owned(), why }
    }
}

/// The logs named, and those in the folders named, in name order.
///
/// # Errors
/// If a folder has none.
pub(super) fn paths(named: &[PathBuf]) -> Result<Vec<PathBuf>, SessionError> {
    let mut out = Vec::new();
    for path in named {
        if path.is_dir() {
            let inside = nearby::logs_in(path);
            if inside.is_empty() {
                return Err(Refusal::NoLogIn(path.clone()).into());
            }
            out.extend(inside);
        } else {
            out.push(path.clone());
        }
    }
    Ok(out)
}

/// Processes every path, as many at a time as there are processors, and passes the results on in path order, so that
/// the outcome is the same on every machine. At most `ahead` results for each processor are held.
///
/// # Errors
/// The error of `take`.
pub(super) fn each<T: Send>(
    paths: &[PathBuf],
    ahead: usize,
    work: impl Fn(&Path) -> T + Sync,
    mut take: impl FnMut(T) -> Result<(), SessionError>,
) -> Result<(), SessionError> {
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    for some in paths.chunks(threads * ahead) {
        let next = AtomicUsize::new(0);
        let works = || {
            let mut mine = Vec::new();
            loop {
                let i = next.fetch_add(1, Ordering::Relaxed);
                let Some(path) = some.get(i) else { return mine };
                mine.push((i, work(path)));
            }
        };
        let join = |thread: ScopedJoinHandle<'_, Vec<(usize, T)>>| {
            thread.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
        };
        let mut done: Vec<(usize, T)> = std::thread::scope(|scope| {
            let all: Vec<_> = (0..threads.min(some.len())).map(|_| scope.spawn(works)).collect();
            all.into_iter().flat_map(join).collect()
        });
        done.sort_by_key(|(i, _)| *i);
        done.into_iter().try_for_each(|(_, one)| take(one))?;
    }
    Ok(())
}

/// Heads that logs had along the way, to tell when two of them are the same.
#[derive(Default)]
pub(super) struct Heads {
    passed: BTreeMap<Head, String>,
    last: BTreeMap<Head, String>,
}

impl Heads {
    /// The log seen before of which this one is a copy, or an earlier or later state: they share at least half of the
    /// shorter one.
    fn seen(&mut self, name: &str, own: &[Head]) -> Option<String> {
        let last = own.last()?;
        let same = self.passed.get(last).or_else(|| own.iter().find_map(|key| self.last.get(key))).cloned();
        if same.is_none() {
            self.last.insert(last.clone(), name.to_owned());
            for key in own {
                self.passed.entry(key.clone()).or_insert_with(|| name.to_owned());
            }
        }
        same
    }
}

impl OpenLog {
    /// Opens a log and judges it at the end of `stage`, or of its closing stage.
    pub fn open(path: &Path, stage: Option<&str>) -> Result<Self, NotCounted> {
        let name = path.display().to_string();
        let failed = |why: SessionError| WhyNot::Failed { name: name.clone(), why: Box::new(why) };
        let not = |why| failed(why).of(&name);
        let session = Session::open_whole(path).map_err(not)?;
        let heads = heads(&session).map_err(not)?;
        let wing = wing(&name, &session, stage).map_err(failed);
        let plan = session.plan().clone();
        Ok(Self { one: OneLog { name, plan, heads, wing }, session })
    }
}

impl OneLog {
    /// Its wing, if it was not taken before.
    pub fn counted(self, seen: &mut Heads) -> Result<OneWing, WhyNot> {
        seen.seen(&self.name, &self.heads).map_or(self.wing, |same| Err(WhyNot::Seen(same)))
    }
}

/// The heads at every power of two, by which logs are compared.
fn heads(session: &Session) -> Result<Vec<Head>, SessionError> {
    let mut own = Vec::new();
    let mut at = 1;
    while at <= session.head.seq {
        let hash = session.journal.hash_at(at)?;
        own.extend(hash.map(|hash| (at, hash.to_string())));
        at *= 2;
    }
    Ok(own)
}

fn wing(name: &str, session: &Session, stage: Option<&str>) -> Result<OneWing, SessionError> {
    let stage = match stage {
        Some(stage) => Some(session.stage_named(stage)?),
        None => closing(session.plan()),
    };
    let cut = stage.as_deref().map(|stage| session.history_to(stage)).transpose()?;
    let entries = cut.as_deref().unwrap_or_else(|| session.entries());
    let wing = Wing::of(WingLog { name, plan: session.plan(), entries, chain: session.chain() });
    Ok(OneWing { wing, stage })
}

fn one_line(name: &str, why: &SessionError) -> String {
    let why = why.to_string().replace('\n', " ");
    why.strip_prefix(&format!("{name}: ")).unwrap_or(&why).to_owned()
}

fn closing(plan: &Plan) -> Option<String> {
    plan.closing_stage().map(|stage| stage.name.clone())
}
