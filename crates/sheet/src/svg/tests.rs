use super::*;

#[test]
fn names_cannot_break_out_of_their_text() {
    let shapes = [Shape::text(1.0, 2.5, 8.0, Face::Medium, "<script>&\"S-4\" -1.5")];
    let plot = Picture { shapes: shapes.into(), about: "c&d".to_owned() };
    let svg = picture(&Typesetter::new().unwrap(), &PlotStyle::default(), "a<b", &plot);
    assert!(svg.contains("&lt;script&gt;&amp;&quot;S-4&quot; \u{2212}1.5</text>"), "{svg}");
    assert!(svg.contains("<title>a&lt;b</title>"));
}
