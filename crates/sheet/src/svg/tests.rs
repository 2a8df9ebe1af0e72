//! Tests of `svg`.

use super::*;

#[test]
fn names_cannot_break_out_of_the_text() {
    let shapes = [Shape::text(1.0, 2.5, 8.0, Face::Medium, "<script>&\"S-4\" -1.5")];
    let svg = document((10.0, 10.0), 1.0, ("a<b", "c&d"), &shapes, light);
    assert!(svg.contains("&lt;script&gt;&amp;&quot;S-4&quot; \u{2212}1.5</text>"), "{svg}");
    assert!(svg.contains("<title>a&lt;b</title>"));
}
