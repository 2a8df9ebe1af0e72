use super::{Args, asked_for};
use clap::{Command, CommandFactory};
use std::ffi::OsString;

fn options(command: &Command) -> Vec<String> {
    let arguments = command.get_arguments().map(|a| format!("{a:?}"));
    arguments.chain(command.get_subcommands().flat_map(options)).collect()
}

#[test]
fn a_verb_alone_takes_what_it_takes_among_all() {
    let all = Args::command();
    assert!(all.get_subcommands().count() > 40);
    for verb in all.get_subcommands() {
        let words = ["jigtrue", "--units", "in", "--json", verb.get_name(), "x"].map(OsString::from);
        let program = asked_for(&words);
        let alone: Vec<&Command> = program.get_subcommands().collect();
        assert_eq!(alone.len(), 1, "{}", verb.get_name());
        assert_eq!(alone[0].get_name(), verb.get_name());
        assert_eq!(options(alone[0]), options(verb), "{}", verb.get_name());
    }
    for none in
        [&["jigtrue"][..], &["jigtrue", "chek"], &["jigtrue", "--json"], &["jigtrue", "help", "check"]]
    {
        let words: Vec<OsString> = none.iter().map(OsString::from).collect();
        assert_eq!(asked_for(&words).get_subcommands().count(), all.get_subcommands().count());
    }
}
