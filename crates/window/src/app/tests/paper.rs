//! An entry copied from a sheet is compared with the log in the window, as in the terminal.

use super::opened;
use window::Action;

#[test]
fn an_entry_on_paper_fits_or_does_not() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, log) = opened(folder.path());
    let session::LogHead { entries: last, hash } = session::Verified::of(&log).unwrap().head();
    let groups: Vec<String> =
        hash.as_bytes().chunks(4).map(|g| String::from_utf8_lossy(g).into_owned()).collect();
    let other: String = hash.chars().map(|c| if c == '0' { '1' } else { '0' }).collect();
    let cases = [
        (format!("{last} {}", groups[..4].join(" ")), false, "fits the paper (16 of 64 digits compared)"),
        (format!("#{last} {}", hash.to_uppercase()), false, "fits the paper (64 of 64 digits compared)"),
        (format!("{last} {other}"), true, "does NOT fit the paper"),
        (format!("{} {hash}", last + 1), true, "has no entry"),
        (format!("{last} {}", &hash[..15]), true, "has 15 digits"),
        (format!("{last} {}g", &hash[..16]), true, "digits 0 to 9 and a to f"),
        (hash.clone(), true, "entry's number first"),
    ];
    for (typed, wrong, words) in cases {
        desk.act(Action::OnPaper(typed.clone()));
        let notice = desk.model().notice.clone().unwrap();
        assert!(notice.wrong == wrong && notice.words.contains(words), "{typed}: {notice:?}");
    }
}
