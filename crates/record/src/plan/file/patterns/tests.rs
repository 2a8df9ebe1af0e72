//! Tests of `patterns`.

use super::matches;

#[test]
fn a_star_matches_any_run_of_characters() {
    for (pattern, name, hit) in [
        ("incidence@*", "incidence@S1", true),
        ("incidence@S1", "incidence@S1", true),
        ("incidence@S1", "incidence@S10", false),
        ("incidence@S1*", "incidence@S10", true),
        ("*@front:*", "offset@front:S3", true),
        ("*:S3", "offset@front:S33", false),
        ("o*t@*:S*3", "offset@front:S33", true),
        ("S*3", "S3", true),
        ("S3*3", "S3", false),
        ("*", "anything", true),
        ("", "anything", false),
    ] {
        assert_eq!(matches(pattern, name), hit, "{pattern} {name}");
    }
}
