//! Rewords sentences that name a command of the terminal, for the window.

/// Phrases that name an option, and their wording without it.
const PHRASES: [(&str, &str); 6] = [
    (": jigtrue undo --reason REASON", ""),
    (" with --carry --reason", " with a reason"),
    (", or look at the list of `jigtrue ports`", ""),
    (", or start one with `jigtrue new`", ""),
    ("say which with --instrument: ", "choose one: "),
    ("Say it with --what, as in", "Say it, as in"),
];

/// The commands named in sentences that both faces say.
const VERBS: [&str; 16] = [
    "advise",
    "check",
    "entries",
    "import",
    "instrument",
    "listen",
    "move",
    "plan",
    "ports",
    "rework",
    "series",
    "sign",
    "stage",
    "take",
    "undo",
    "verify",
];

/// Where a clause ends.
const ENDS: [&str; 4] = ["; ", ". ", "? ", "\n"];

/// Rewords for the window a sentence that both faces say: a command of the terminal becomes the button that does the
/// same, and what only the terminal can do is left out.
pub fn by_touch(text: &str) -> String {
    let mut out = text.replace(" (jigtrue rework)", " as reworked");
    if out.trim() == "jigtrue take" {
        return "Measure it.".to_owned();
    }
    while let Some(at) = out.find("jigtrue rework ") {
        let rest = &out[at..];
        let what = rest.find(" --what \"").map(|i| i + " --what \"".len());
        let end = what.and_then(|from| rest.get(from..)?.find('"').map(|i| (from, from + i)));
        let Some((from, to)) = end else { break };
        let done = format!("record it as {}", &rest[from..to]);
        out.replace_range(at..at + to + 1, &done);
    }
    without_commands(&out)
}

/// The text without the clauses that name a command; the whole text if nothing else is left.
fn without_commands(text: &str) -> String {
    let mut text = text.to_owned();
    for (phrase, plain) in PHRASES {
        text = text.replace(phrase, plain);
    }
    let kept: String = clauses(&text).into_iter().filter(|clause| !names_a_command(clause)).collect();
    let kept = kept.trim_end();
    let kept = kept.strip_suffix(';').unwrap_or(kept);
    if kept.is_empty() { text } else { kept.to_owned() }
}

/// The clauses of a text, each with its ending mark.
fn clauses(mut text: &str) -> Vec<&str> {
    let mut out = Vec::new();
    while let Some(end) = ENDS.iter().filter_map(|end| Some(text.find(end)? + end.len())).min() {
        let (clause, rest) = text.split_at(end);
        out.push(clause);
        text = rest;
    }
    out.push(text);
    out
}

fn names_a_command(clause: &str) -> bool {
    let command = |rest: &str| {
        let verb = rest.split(|c: char| !c.is_ascii_lowercase()).next().unwrap_or_default();
        VERBS.contains(&verb)
    };
    clause.contains(" --") || clause.split("jigtrue ").skip(1).any(command)
}
