//! A person who has never seen the program gets from `--help` to a verdict.

use crate::program;
use crate::program::Bench;

/// The commands that `jigtrue --help` shows, typed as they stand there.
#[test]
fn the_steps_that_help_shows_lead_to_a_check() {
    let bench = Bench::new();
    let help = bench.line("--help").expect(0).out;
    let steps: Vec<&str> = help
        .lines()
        .filter_map(|l| l.strip_prefix("  jigtrue "))
        .map(|l| l.split("  ").next().unwrap_or(l).trim())
        .collect();
    assert_eq!(steps.len(), 5, "{steps:?}");
    for step in steps {
        match step.split_once(" > ") {
            Some((line, file)) => bench.write(file, bench.line(line).expect(0).out),
            None if step.starts_with("check") => {
                let ran = bench.line(step).expect(11);
                assert!(ran.out.contains("GATE   HOLD"), "{}", ran.out);
                assert!(ran.out.contains("measure level@root-post"), "it says what to do next:\n{}", ran.out);
                // One station is read, and well: it waits, as the others do, for the stage that requires them.
                bench.line("take S1 f 2.1 a -1.9").expect(0);
                let said = bench.line(step).expect(11).out;
                let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
                assert!(said.contains("ribs on is not begun; waiting for it: setting"), "{said}");
                assert!(said.contains("S1 to S6"), "{said}");
            }
            // The example plan has stages of its own; the help's stage must be one of them.
            None => drop(bench.line(step).expect(0)),
        }
    }
}

/// From the example plan to a clear gate, by doing only what each answer says to do next.
#[test]
fn doing_what_the_check_says_next_clears_the_gate() {
    let bench = Bench::new();
    bench.write("wing.toml", bench.line("plan").expect(0).out);
    bench.line("new wing.toml wing.jigtrue").expect(0);
    let stages = bench.line("check wing.jigtrue --json").json();
    assert_eq!(stages["gate"]["state"], "hold");
    // Nothing was read, so nothing is said of earlier readings.
    let begun = bench.line("stage wing.jigtrue \"ready to skin\" --anyway practice").expect(0).out;
    assert!(!begun.contains("earlier readings"), "{begun}");
    bench.line("withdraw wing.jigtrue 2 --reason practice").expect(0);
    for stage in ["jig empty", "ribs on", "ready to skin"] {
        bench.run(&["stage", "wing.jigtrue", stage]).expect(0);
        walk_what_is_wanted(&bench);
        let ran = bench.line("check wing.jigtrue --this-stage").expect(0);
        assert!(stage == "ready to skin" || ran.out.contains("NEXT   jigtrue stage"), "{}", ran.out);
    }
    let ran = bench.line("check wing.jigtrue").expect(11);
    assert!(ran.out.contains("open-item"), "{}", ran.out);
    bench.line("open-item wing.jigtrue \"inboard rivets left out\" --close --reason \"riveted\"").expect(0);
    let ran = bench.line("check wing.jigtrue").expect(0);
    assert!(ran.out.contains("GATE   CLEAR"), "{}", ran.out);
    bench.line("sign wing.jigtrue --capacity builder --statement \"seen and found in order\"").expect(0);
    bench.line("verify wing.jigtrue").expect(0);
}

/// Takes what the log says is wanted, each with the value the plan asks for, until nothing is.
fn walk_what_is_wanted(bench: &Bench) {
    for _ in 0..40 {
        let a = bench.line("check wing.jigtrue --json").json();
        let Some(point) = a["wanted"][0].as_str() else { return };
        let seen = a["points"].as_array().unwrap().iter().find(|p| p["point"] == point).unwrap();
        let design = seen["design"].as_f64().unwrap_or(0.0);
        // The display shows tenths, and the level has a zero of 0.1.
        let (forward, aft) = (format!("{:.1}", 0.1 + design), format!("{:.1}", 0.1 - design));
        bench.run(&["take", "wing.jigtrue", point, "f", &forward, "a", &aft]).expect(0);
    }
    panic!("after 40 readings something is still wanted");
}

#[test]
fn every_verb_explains_itself_and_has_json() {
    let bench = Bench::new();
    let help = bench.line("help").expect(0).out;
    let verbs: Vec<&str> = help
        .lines()
        .skip_while(|l| !l.starts_with("Commands:"))
        .skip(1)
        .take_while(|l| !l.is_empty())
        .filter(|l| l.starts_with("  ") && !l.starts_with("   "))
        .filter_map(|l| l.split_whitespace().next())
        .filter(|v| *v != "help")
        .collect();
    assert!(verbs.len() >= 27, "{verbs:?}");
    for verb in verbs {
        let [short, whole] =
            [format!("{verb} --help"), format!("help {verb}")].map(|line| bench.line(&line).expect(0).out);
        assert!(short.contains("--json"), "{verb} has no --json");
        assert!(short.lines().count() <= 24, "{verb} --help is more than a screen");
        assert!(whole.contains("--color") && whole.lines().count() > short.lines().count(), "{verb}");
        assert!(whole.lines().all(|l| l.chars().count() <= 92), "{verb}: a line of help is too long");
    }
}

#[test]
fn what_is_not_understood_is_a_usage_error_and_a_near_verb_is_suggested() {
    let bench = Bench::new();
    let ran = bench.line("chek wing.jigtrue").expect(2);
    assert!(ran.err.contains("check"), "{}", ran.err);
    bench.line("take wing.jigtrue").expect(1);
    bench.line("check wing.jigtrue --no-such-thing").expect(2);
}

/// The program asks who is at the bench if nothing else tells it.
#[test]
fn nobody_writes_without_a_name() {
    let bench = Bench::new();
    bench.write("plan.toml", program::SMALL_PLAN);
    let ran: program::Ran = bench
        .command(&["new", "plan.toml", "wing.jigtrue"])
        .env_remove("JIGTRUE_BY")
        .output()
        .unwrap()
        .into();
    let ran = ran.expect(1);
    assert!(ran.err.contains("--by"), "{}", ran.err);
    assert!(!bench.path("wing.jigtrue").exists());
}

/// What bash offers for the last word of a line, by the script that the program prints for it.
fn bash_offers(bench: &Bench, words: &[&str]) -> Vec<String> {
    let folder = program::jigtrue().parent().unwrap();
    let path = format!("{}:{}", folder.display(), std::env::var("PATH").unwrap());
    let script = r#"source <(jigtrue completions bash)
        COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMP_TYPE=9
        _clap_complete_jigtrue jigtrue "${COMP_WORDS[COMP_CWORD]}"
        printf '%s\n' "${COMPREPLY[@]}""#;
    let out = std::process::Command::new("bash")
        .args(["-c", script, "bash", "jigtrue"])
        .args(words)
        .env("PATH", path)
        .current_dir(bench.path(""))
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout).unwrap().lines().map(str::to_owned).collect()
}

#[test]
fn a_shell_completes_verbs_logs_and_points_with_those_wanted_first() {
    let bench = Bench::with_plan(&program::shipped("two-post", "plan.toml"));
    bench.line("stage wing.jigtrue \"spar bolted\" --anyway \"the jig was levelled before\"").expect(0);
    assert_eq!(bash_offers(&bench, &["advi"]), ["advise"]);
    assert_eq!(bash_offers(&bench, &["check", "w"]), ["wing.jigtrue"], "a plan is no log");
    let points = bash_offers(&bench, &["take", "wing.jigtrue", ""]);
    assert_eq!(points.first().map(String::as_str), Some("offset@front:S1"), "{points:?}");
    let last = points.last().unwrap();
    assert!(!last.starts_with("offset@front"), "what is wanted comes first: {points:?}");
    assert_eq!(bash_offers(&bench, &["take", "wing.jigtrue", "nothing"]), [""]);
}

/// The same in zsh, if it is installed.
#[test]
fn zsh_completes_too() {
    let bench = Bench::with_plan(program::SMALL_PLAN);
    bench.line("stage").expect(0);
    // What the shell's own function asks the program for, word by word.
    let offers = |words: &[&str]| -> Vec<String> {
        let index = (words.len() - 1).to_string();
        let out = bench
            .command(&[&["--"], words].concat())
            .env("JIGTRUE_COMPLETE", "zsh")
            .env("_CLAP_COMPLETE_INDEX", index)
            .env("_CLAP_IFS", "\n")
            .output()
            .unwrap();
        assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
        let text = String::from_utf8(out.stdout).unwrap();
        text.lines().map(|line| line.split(':').next().unwrap().trim_end_matches('\\').to_owned()).collect()
    };
    assert_eq!(offers(&["jigtrue", "advi"]), ["advise"]);
    assert_eq!(offers(&["jigtrue", "check", "w"]), ["wing.jigtrue"]);
    // Without a log on the line: the logs, then the points of the only one, those wanted first.
    let both = offers(&["jigtrue", "take", ""]);
    assert_eq!(both.first().map(String::as_str), Some("wing.jigtrue"), "{both:?}");
    assert!(both.iter().any(|word| word.starts_with("incidence@S1")), "{both:?}");
    let script = bench.line("completions zsh").expect(0).out;
    assert!(script.starts_with("#compdef jigtrue"), "{script}");
    bench.write("_jigtrue", script);
    match std::process::Command::new("zsh").args(["-n", "_jigtrue"]).current_dir(bench.path("")).output() {
        Ok(out) => assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr)),
        Err(_) => println!("SKIPPED: zsh is not here, so its own reading of the script was not tried"),
    }
}

/// What an installed shell really does with its own completion; `None`, with a message, if it is not installed.
#[cfg(unix)]
fn shell_does(bench: &Bench, shell: &str, script: &str) -> Option<String> {
    let folder = program::jigtrue().parent().unwrap();
    let path = format!("{}:{}", folder.display(), std::env::var("PATH").unwrap());
    let ran = std::process::Command::new("timeout")
        .args(["60", shell, "-c", script])
        .env("PATH", path)
        .env("HOME", bench.path(""))
        .env("TERM", "dumb")
        .current_dir(bench.path(""))
        .output()
        .unwrap();
    if ran.status.code() == Some(127) {
        println!("SKIPPED: {shell} is not here");
        return None;
    }
    assert!(ran.status.success(), "{shell}: {}", String::from_utf8_lossy(&ran.stderr));
    Some(String::from_utf8_lossy(&ran.stdout).into_owned())
}

#[cfg(unix)]
#[test]
fn fish_completes_too() {
    let bench = Bench::with_plan(program::SMALL_PLAN);
    bench.line("stage").expect(0);
    let script = "jigtrue completions fish | source; complete -C 'jigtrue advi'; complete -C 'jigtrue check w'; \
                  complete -C 'jigtrue take '";
    let Some(offers) = shell_does(&bench, "fish", script) else { return };
    let words: Vec<&str> = offers.lines().map(|l| l.split('\t').next().unwrap()).collect();
    assert_eq!(words[..2], ["advise", "wing.jigtrue"], "{offers}");
    assert!(words.iter().any(|w| w.starts_with("incidence@S1")), "{offers}");
}

/// A line typed into zsh with the Tab key.
#[cfg(unix)]
#[test]
fn zsh_fills_in_what_the_tabulator_asks_for() {
    let bench = Bench::with_plan(program::SMALL_PLAN);
    let script = r#"zmodload zsh/zpty || exit 127
        zpty z zsh -f -i
        zpty -w z 'PS1="%% "; autoload -Uz compinit; compinit -D -u; source <(jigtrue completions zsh); print READY$((1))'
        zpty -r z seen '*READY1*'
        zpty -w -n z $'jigtrue advi\t'
        zpty -r z verb '*advise*'
        zpty -w -n z $' w\t'
        zpty -r z log '*wing.jigtrue*'
        print -r -- "$verb$log"
        zpty -d z"#;
    let Some(seen) = shell_does(&bench, "zsh", script) else { return };
    assert!(seen.contains("advise") && seen.contains("wing.jigtrue"), "{seen}");
}

#[test]
fn manual_pages_come_out_of_the_program() {
    let bench = Bench::new();
    bench.line("man --dir .").expect(0);
    let page = String::from_utf8(bench.read("jigtrue-take.1")).unwrap();
    assert!(page.contains(".SH SYNOPSIS") && page.contains("facing"), "{page}");
    let own = bench.line("man").expect(0);
    assert_eq!(own.out.as_bytes(), bench.read("jigtrue.1"));
    bench.line("man nothing").expect(1);
}

/// A computer that has no name for its user: every verb that writes asks for one and writes nothing; all others
/// answer.
#[test]
fn without_a_name_nothing_is_written_and_the_answer_says_how_to_give_one() {
    let bench = Bench::new();
    bench.write("wing.toml", bench.line("plan").expect(0).out);
    bench.write("round.csv", "point,value,facing\nincidence@S2,1.0,forward\n");
    bench.line("new wing.toml wing.jigtrue").expect(0);
    bench.line("stage wing.jigtrue \"jig empty\"").expect(0);
    let other = String::from_utf8(bench.read("wing.toml")).unwrap().replacen("0.25", "0.24", 1);
    bench.write("other.toml", other);
    bench.write("level.toml", bench.line("instrument example inclinometer").expect(0).out);
    let nobody = |line: &str, names: &[(&str, &str)]| -> program::Ran {
        let mut command = bench.command(&program::words(line));
        command.env_remove("JIGTRUE_BY").envs(names.iter().copied());
        command.output().unwrap().into()
    };
    let before = bench.line("export wing.jigtrue --format jsonl").expect(0).out;
    for line in [
        "new wing.toml second.jigtrue",
        "take wing.jigtrue S2 f 1.0 a -1.0",
        "import wing.jigtrue round.csv",
        "stage wing.jigtrue \"ready to skin\" --anyway try",
        "note wing.jigtrue seen",
        "open-item wing.jigtrue \"a rivet\"",
        "rework wing.jigtrue incidence@S2 --what drilled",
        "replan wing.jigtrue other.toml --reason try",
        "instrument add wing.jigtrue level.toml",
        "undo wing.jigtrue",
        "withdraw wing.jigtrue 2 --reason try",
        "sign wing.jigtrue --capacity builder --statement seen --as-seen",
    ] {
        for names in [&[][..], &[("USER", ""), ("LOGNAME", "  ")]] {
            let ran = nobody(line, names).expect(1);
            assert!(ran.err.contains("who is at the bench? Say it with --by NAME"), "{line}: {}", ran.err);
        }
    }
    for line in ["check wing.jigtrue", "check wing.jigtrue --json"] {
        nobody(line, &[]).expect(11);
    }
    for line in
        ["verify wing.jigtrue", "entries wing.jigtrue", "sheet wing.jigtrue -o s.pdf", "plan wing.jigtrue"]
    {
        nobody(line, &[]).expect(0);
    }
    assert_eq!(bench.line("export wing.jigtrue --format jsonl").expect(0).out, before);
    assert!(!bench.path("second.jigtrue").exists());
    nobody("take wing.jigtrue S2 f 1.0 --by ann", &[]).expect(0);
    nobody("take wing.jigtrue S2 a -1.0", &[("LOGNAME", "ann")]).expect(0);
}
