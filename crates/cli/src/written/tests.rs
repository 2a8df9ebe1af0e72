use super::Holds;
use std::path::Path;

#[test]
fn a_name_says_what_is_in_the_file() {
    let fits = |holds: Holds, name: &str| holds.may_be_in(&std::env::temp_dir().join(name), &[]).is_ok();
    for (holds, good) in [
        (Holds::Pdf, "left.pdf left.PDF left.of.june.Pdf"),
        (Holds::Svg, "left.svg"),
        (Holds::Csv, "left.csv left left.txt"),
        (Holds::JsonLines, "left.jsonl left left.json"),
        (Holds::Text, "form.txt form"),
        (Holds::Log, "left.jigtrue left.of.june.JIGTRUE"),
        (Holds::Instrument, "level.toml"),
    ] {
        assert!(good.split(' ').all(|name| fits(holds, name)), "{holds:?}");
        for bad in ["x.png", "x.docx", "x.", "left.pdf.", "left.pdf.bak", "x.jigtrue.bak", "x.2031-06-02"] {
            assert!(!fits(holds, bad), "{holds:?} into {bad}");
        }
    }
    for (holds, bad) in [
        (Holds::Pdf, "left pdf left.svg left.csv .pdf x.jigtrue"),
        (Holds::Svg, "left left.pdf"),
        (Holds::Csv, "left.pdf left.jsonl left.json x.jigtrue"),
        (Holds::JsonLines, "left.csv"),
        (Holds::Text, "form.pdf form.csv"),
        (Holds::Log, "left left.pdf left.db .jigtrue jigtrue"),
        (Holds::Instrument, "level level.jigtrue .toml"),
    ] {
        assert!(bad.split(' ').all(|name| !fits(holds, name)), "{holds:?}");
    }
    for holds in [Holds::Pdf, Holds::Csv, Holds::JsonLines, Holds::Text, Holds::Log, Holds::Instrument] {
        assert!(holds.may_be_in(Path::new("-"), &[]).is_err());
    }
}
