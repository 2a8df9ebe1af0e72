//! Tests of `keep`.

use super::{Keep, Looks, Person, Role};

#[test]
fn what_is_kept_is_there_again_and_an_older_file_is_read() {
    let looks = Looks { scale: 1.5, turned: true, tone: false, ..Looks::default() };
    let mut keep = Keep { looks, ..Keep::default() };
    keep.at_the_bench(&Person { name: "Ruel".to_owned(), role: Role::Inspector });
    keep.opened("/wings/left.jigtrue", "left\twing");
    keep.port = "/dev/ttyUSB0".to_owned();
    keep.instrument = "beam level".to_owned();
    let again = Keep::parse(&keep.text());
    assert_eq!(again.recent[0].wing, "left wing");
    assert_eq!(Keep { recent: keep.recent.clone(), ..again }, keep);
    let old = Keep::parse("cautions\tread\ntheme\tdark\nscale\t2\nlog\t/a.jigtrue\ta wing\n");
    assert!(old.cautions_read && old.who.is_none() && old.looks.pairs);
    assert_eq!(old.recent[0].path, "/a.jigtrue");
}
