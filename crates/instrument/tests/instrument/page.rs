//! The handbook's page on instrument files: its files are read, its lines fit their forms, and it names every key.

use instrument::{Decoder, EXAMPLES, InstrumentFile};

const PAGE: &str = include_str!("../../../../docs/instrument-files.md");

#[test]
fn the_files_on_the_page_and_the_examples_can_be_read() {
    let files: Vec<&str> =
        PAGE.split("```toml\n").skip(1).filter_map(|block| block.split("```").next()).collect();
    assert_eq!(files.len(), 2);
    for text in files.into_iter().chain(EXAMPLES.map(|example| example.text)) {
        if let Err(why) = InstrumentFile::read(text) {
            unreachable!("{text}\n{why}");
        }
    }
    for example in EXAMPLES {
        assert!(PAGE.contains(&format!("`{}`", example.word)), "{}", example.word);
    }
}

#[test]
fn the_lines_on_the_page_fit_their_forms() {
    let table = PAGE.split("| line | form | keys |\n").nth(1).unwrap();
    let rows: Vec<&str> = table.lines().skip(1).take_while(|line| line.starts_with('|')).collect();
    assert!(rows.len() >= 7);
    for row in rows {
        let cells: Vec<&str> = row.split('|').map(|cell| cell.trim().trim_matches('`')).collect();
        let [_, line, form, keys, _] = cells[..] else { unreachable!("three cells: {row}") };
        let axis = ["angle", "length", "torque"]
            .into_iter()
            .find(|axis| form.contains(&format!("{{{axis} ")))
            .unwrap();
        let text = format!(
            "name = \"x\"\nkind = \"other\"\nresolution = 0.01\n[port]\nbaud = 9600\n[dialect]\nspeaks = \"lines\"\nline = \
             '''{form}'''\n{keys}\n[axes]\nmeasures = \"{axis}\"\npositive = \"arrow end up\"\n"
        );
        let file = InstrumentFile::read(&text).map_err(|why| format!("{row}\n{why}")).unwrap();
        let mut decoder = Decoder::new(&file.dialect);
        decoder.silence();
        let mut fits = 0;
        let end = if line.ends_with(';') { "" } else { "\r\n" };
        decoder.each(format!("{line}{end}").as_bytes(), |next| fits += usize::from(next.is_ok()));
        assert!(fits > 0, "{row}");
    }
}

/// Every possible key of a file: the reader knows each, so that a wrong name is corrected, and the page names it.
#[test]
fn every_key_is_on_the_page() {
    let known = |text: &str| {
        let said = InstrumentFile::read(text).unwrap_err().to_string();
        let keys = said.split("known here: ").nth(1).unwrap().lines().next().unwrap().to_owned();
        keys.split(", ").map(str::to_owned).collect::<Vec<_>>()
    };
    let example = EXAMPLES[3].text;
    let mut keys = known(&format!("zzzzzzzz = 1\n{example}"));
    for table in ["[port]", "[dialect]", "[[dialect.value]]", "[axes]"] {
        keys.extend(known(&example.replacen(table, &format!("{table}\nzzzzzzzz = 1"), 1)));
    }
    keys.extend(known(&format!("{example}\n[settle]\nzzzzzzzz = 1\n")));
    keys.extend(known(&EXAMPLES[0].text.replace("[dialect] ", "[dialect]\nzzzzzzzz = 1 #")));
    assert!(keys.len() > 35, "{keys:?}");
    for key in keys {
        assert!(
            PAGE.contains(&format!("`{key}`"))
                || PAGE.contains(&format!("`[{key}]`"))
                || PAGE.contains(&format!("`{key} ")),
            "{key}"
        );
    }
}
