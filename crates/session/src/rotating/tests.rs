use super::{MARK, Rotating};

#[test]
fn a_full_file_is_put_aside_and_the_oldest_deleted() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("watch.log");
    for round in 0..2 {
        let mut log = Rotating::open_until(&path, 200).unwrap();
        for line in 0..200 {
            log.line(&format!("{round} line {line}")).unwrap();
        }
    }
    let mut names: Vec<String> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(
        names,
        ["watch.log", "watch.log.1", "watch.log.2", "watch.log.3", "watch.log.4", "watch.log.5"]
    );
    let mut all = String::new();
    for name in names.iter().rev() {
        let text = std::fs::read_to_string(folder.path().join(name)).unwrap();
        assert!(text.starts_with(MARK) && text.len() < 300, "{name}");
        all.push_str(&text.replace(MARK, ""));
    }
    // The last lines, each once and in order.
    let kept = all.lines().count();
    let wanted: Vec<String> = (200 - kept..200).map(|line| format!("1 line {line}")).collect();
    assert!(kept > 50);
    assert_eq!(all.lines().collect::<Vec<_>>(), wanted);
}

#[test]
fn a_file_of_another_kind_is_left_unchanged() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("wing.jigtrue");
    std::fs::write(&path, "something else, longer than the mark of such a file").unwrap();
    assert!(Rotating::open(&path).is_err());
    assert!(Rotating::open(folder.path()).is_err());
    assert_eq!(std::fs::read_to_string(path).unwrap().len(), 51);
}
