//! Plans of rigged aeroplanes: what is read, what is refused, what is looser.
#![allow(clippy::unwrap_used, reason = "a test stops where something is missing")]

use record::plan::{Plan, PlanText, changes};

const HEAD: &str = "format = 1\n[aeroplane]\nname = \"invented\"\n";

fn wrong(of: &str) -> String {
    Plan::parse(&format!("{HEAD}{of}")).unwrap_err().to_string()
}

#[test]
fn each_mistake_has_its_message() {
    for (of, says) in [
        ("[[angle]]\nname = \"a\"\nof = \"dihedrel\"\n", "dihedral"),
        ("[[angle]]\nname = \"a\"\nof = \"dihedral\"\n", "design"),
        ("[[angle]]\nname = \"a\"\nof = \"sweep\"\ndesign = 2.0\n", "base"),
        ("[[control]]\nname = \"a\"\n", "laid"),
        ("[[control]]\nname = \"a\"\nlaid = \"square\"\nby = \"arc\"\nchord = 200\n", "laid"),
        ("[[control]]\nname = \"a\"\nlaid = \"square\"\nup = 20\n", "above zero"),
        ("[[control]]\nname = \"a\"\nlaid = \"square\"\nhinge_sweep = 85\n", "between -80"),
        ("[[cable]]\nname = \"a\"\nchart = [{ at = 20, tension = 300 }]\ntolerance = 20\n", "two rows"),
        (
            "[[cable]]\nname = \"a\"\nchart = [{ at = 20, tension = 300 }, { at = 30, tension = 320 }]\n",
            "tolerance",
        ),
        ("[[bolt]]\nname = \"a\"\nlower = 20\nlever = 200\n", "extension"),
        ("[[bolt]]\nname = \"a\"\nupper = 20\ndrag_rule = \"add-from-third\"\n", "lower"),
        ("[[bolt]]\nname = \"a\"\nlower = 20\nlever = 200\nextension = 210\nangle = 180\n", "behind it"),
        ("[[mark]]\nname = \"a\"\naft = 0\n", "right"),
        ("[[distance]]\nname = \"d\"\nfrom = \"tail\"\nto = \"left\"\n", "no mark named"),
        (
            "[[difference]]\nname = \"d\"\nof = \"dihedral@left\"\nless = \"dihedral@right\"\n",
            "not a rigged point",
        ),
        ("[[weight]]\nname = \"w\"\nupright = \"rig-incidence@a\"\n", "upright and inverted"),
        (
            "[[weight]]\nname = \"w\"\nupright = \"rig-incidence@a\"\ninverted = \"rig-incidence@b\"\n",
            "not a rigged point",
        ),
        ("[wing]\nname = \"w\"\nside = \"left\"\n", "not for both"),
        ("[[angle]]\nname = \"a\"\nof = \"incidence\"\ndesign = 2.0\nbase = 900\n", "except for a sweep"),
        ("[[angle]]\nname = \"a\"\nof = \"dihedral\"\ndesign = 2.0\nbase = 900\n", "of = \"rise\""),
        ("[[angle]]\nname = \"a\"\nof = \"rise\"\ndesign = 2.0\n", "base"),
        ("[[bolt]]\nname = \"b\"\ndrag = 2.0\n", "the drag of the nut"),
        ("[[bolt]]\nname = \"b\"\nlower = 20\nangle = 30\n", "lever and extension"),
        ("[[cable]]\nname = \"c\"\nlower = 200\ntemperature_within = 2\n", "without a chart"),
        ("[[cable]]\nname = \"c\"\nlower = 200\nriser = \"2\"\n", "size of the cable"),
        ("[[control]]\nname = \"c\"\nby = \"arc\"\nchord = 400\nhinge_sweep = 5\n", "unless a level"),
        (
            "[[mark]]\nname = \"t\"\naft = 4300\nright = 9\n[[mark]]\nname = \"l\"\naft = 0\nright = -4000\n\
             [[mark]]\nname = \"r\"\naft = 0\nright = 4000\n[[distance]]\nname = \"tl\"\nfrom = \"t\"\nto = \"l\"\n\
             [[distance]]\nname = \"tr\"\nfrom = \"t\"\nto = \"r\"\n\
             [[symmetry]]\nname = \"s\"\npair = [{ left = \"tl\", right = \"tr\" }]\nyaw = 0.1\n",
            "one mark on the middle",
        ),
    ] {
        let why = wrong(of);
        assert!(why.contains(says), "{of}: {why}");
    }
}

/// One misspelt word is one mistake: the keys beside it are read and known.
#[test]
fn a_misspelt_word_makes_no_other_key_unknown() {
    let why = wrong(
        "[[angle]]\nname = \"a\"\nof = \"dihedrel\"\nside = \"left\"\ndesign = 5.0\ntolerance = 0.25\nbase = 900\n",
    );
    assert_eq!(why.lines().filter(|line| line.starts_with("line ")).count(), 1, "{why}");
}

/// A key that an earlier program ignored does not lock a log: it is reported, and the log is judged as before. What
/// was always wrong is still refused.
#[test]
fn a_log_with_a_key_without_effect_opens() {
    for (of, key) in [
        ("[[angle]]\nname = \"a\"\nof = \"incidence\"\ndesign = 2.0\nbase = 900\n", "base"),
        ("[[angle]]\nname = \"a\"\nof = \"upright\"\nbase = 900\n", "base"),
        ("[[angle]]\nname = \"a\"\nof = \"dihedral\"\ndesign = 2.0\nbase = 900\n", "base"),
        ("[[bolt]]\nname = \"b\"\nlower = 20\nangle = 30\n", "angle"),
        ("[[cable]]\nname = \"c\"\nlower = 200\ntemperature_within = 2\n", "temperature_within"),
        ("[[cable]]\nname = \"c\"\nlower = 200\nriser = \"2\"\n", "riser"),
        ("[[control]]\nname = \"c\"\nby = \"arc\"\nchord = 400\nhinge_sweep = 5\n", "hinge_sweep"),
    ] {
        let text = format!("{HEAD}{of}");
        assert!(Plan::parse(&text).is_err(), "{of}");
        let logged = Plan::parse_logged(&text).unwrap_or_else(|why| panic!("{of}: {why}"));
        assert!(
            logged.remarks.len() == 1 && logged.remarks[0].contains(&format!("`{key}`")),
            "{:?}",
            logged.remarks
        );
        let line = of.lines().find(|l| l.starts_with(key)).unwrap();
        let without = Plan::parse(&text.replace(&format!("{line}\n"), "")).unwrap();
        assert_eq!(record::Plan { remarks: Vec::new(), ..logged }, without, "{of}");
    }
    assert!(
        Plan::parse_logged(&format!("{HEAD}[[angle]]\nname = \"a\"\nof = \"sweep\"\ndesign = 2.0\n"))
            .is_err()
    );
}

/// Every way to demand less of something rigged is reported; demanding more is not.
#[test]
fn a_loosened_limit_is_reported() {
    let old = format!(
        "{HEAD}[[angle]]\nname = \"left\"\nof = \"incidence\"\ndesign = 2.0\ntolerance = 0.25\n\
         [[cable]]\nname = \"c\"\nlower = 250\nupper = 300\n[[bolt]]\nname = \"b\"\nlower = 20\nupper = 30\n\
         [[control]]\nname = \"e\"\nlaid = \"square\"\nup = {{ lower = 19, upper = 21 }}\nplay = 1.0\n"
    );
    let before = Plan::parse(&old).unwrap();
    for (was, now, looser) in [
        ("tolerance = 0.25", "tolerance = 0.3", true),
        ("tolerance = 0.25", "tolerance = 0.2", false),
        ("tolerance = 0.25\n", "", true),
        ("lower = 250", "lower = 240", true),
        ("lower = 250", "lower = 260", false),
        ("upper = 30\n", "upper = 35\n", true),
        ("upper = 21", "upper = 22", true),
        ("play = 1.0", "play = 1.5", true),
        ("lower = 20\nupper = 30\n", "lower = 20\nupper = 30\nlever = 200\nextension = 20\n", true),
        ("[[cable]]\nname = \"c\"\nlower = 250\nupper = 300\n", "", true),
        ("laid = \"square\"", "laid = \"fore-aft\"", true),
        ("laid = \"square\"", "laid = \"square\"\nhinge_dihedral = 4.0", true),
        ("laid = \"square\"", "by = \"arc\"\nchord = 400", true),
        ("lower = 250", "size = \"1/8 in\"\nlower = 250", true),
        ("[[bolt]]", "[fuselage]\n[[bolt]]", true),
    ] {
        let new = old.replacen(was, now, 1);
        assert_ne!(new, old, "{was}");
        let after = Plan::parse(&new).unwrap();
        let all = changes(&PlanText { text: &old, plan: &before }, &PlanText { text: &new, plan: &after });
        assert_eq!(all.iter().any(|c| c.looser), looser, "{was} -> {now}: {all:?}");
    }
}
