//! The first page of help: the verbs grouped by use.

use crate::view::wrap::wrap_hang;
use clap::Command;

/// The verbs by use. A builder needs the first four groups, an inspector the third and fifth.
const GROUPS: [(&str, &[&str]); 7] = [
    ("Begin", &["new", "plan", "instrument", "wing"]),
    ("At the jig", &["take", "listen", "import", "form", "move", "stage"]),
    ("Is it true?", &["check", "advise", "compare", "watch"]),
    ("Put right", &["undo", "withdraw", "entries", "rework", "open-item", "replan", "note"]),
    ("Hand over and inspect", &["sign", "sheet", "verify", "export", "backup", "series"]),
    (
        "The same arithmetic for any table or value, without a log",
        &[
            "fit", "straight", "level", "square", "bores", "spacing", "decide", "repeat", "torque", "travel",
            "tape", "symmetry",
        ],
    ),
    ("Other", &["demo", "ports", "completions", "man", "help"]),
];

/// Width of the verb column.
const VERB: usize = 12;

/// The program with its verbs grouped on the first page of help.
pub fn grouped(program: Command) -> Command {
    let mut program = program;
    program.build();
    let list = list(&program);
    program.help_template(format!(
        "{{about-with-newline}}\n{{usage-heading}} {{usage}}\n\nCommands:\n{list}\nOptions:\n{{options}}{{after-help}}"
    ))
}

fn list(program: &Command) -> String {
    let about = |name: &str| {
        let verb = program.find_subcommand(name).filter(|verb| !verb.is_hide_set())?;
        let about = verb.get_about().map(ToString::to_string).unwrap_or_default();
        Some(wrap_hang(&format!("  {name:<VERB$} "), &" ".repeat(VERB + 3), &about) + "\n")
    };
    let group = |(title, names): &(&str, &[&str])| {
        let verbs: String = names.iter().filter_map(|name| about(name)).collect();
        format!("{title}\n{verbs}")
    };
    GROUPS.iter().map(group).collect()
}

#[cfg(test)]
mod tests {
    use super::GROUPS;
    use crate::args::Args;
    use clap::CommandFactory;
    use std::collections::BTreeSet;

    #[test]
    fn every_verb_is_in_one_group() {
        let mut program = Args::command();
        program.build();
        let shown = program.get_subcommands().filter(|verb| !verb.is_hide_set());
        let shown: BTreeSet<&str> = shown.map(clap::Command::get_name).collect();
        let grouped: Vec<&str> = GROUPS.iter().flat_map(|(_, names)| names.iter().copied()).collect();
        assert_eq!(grouped.iter().copied().collect::<BTreeSet<&str>>(), shown);
        assert_eq!(grouped.len(), shown.len(), "a verb is in two groups");
    }
}
