//! Line forms against lines, and lines made from them.

use instrument::{Decoder, DialectSpec, Template, TemplateFault};

fn read(form: &str, line: &str) -> Option<String> {
    let mut decoder = Decoder::new(&DialectSpec::Lines(Template::new(form).unwrap()));
    decoder.silence();
    let mut said = Vec::new();
    decoder.each(format!("{line}\r\n").as_bytes(), |next| {
        said.extend(next.map(|sample| format!("{} {} {:?}", sample.axis.word(), sample.value, sample.unit)));
    });
    (!said.is_empty()).then(|| said.join(", "))
}

fn refused(form: &str) -> (usize, TemplateFault) {
    let error = Template::new(form).unwrap_err();
    (error.at, error.fault)
}

#[test]
fn values_are_read_where_the_holes_are() {
    let two = "X={angle deg},Y={cross deg}";
    assert_eq!(read(two, "X=-1.25,Y=0.30").as_deref(), Some("angle -1.25 Degree, cross 0.30 Degree"));
    assert_eq!(
        read("#{number} {word} L {length mm} mm", "#12 abc L 3.20 mm").as_deref(),
        Some("length 3.20 Millimetre")
    );
    assert_eq!(read("{{a}{angle mm/m}", "{a}6.1").as_deref(), Some("angle 6.1 MillimetrePerMetre"));
    assert_eq!(read("T= {temperature degC .1}", "T=   -5.0").as_deref(), Some("temperature -5.0 Celsius"));
    assert_eq!(
        read("{angle deg .2} {cross deg .2}", "1.25 -0.30").as_deref(),
        Some("angle 1.25 Degree, cross -0.30 Degree")
    );
}

#[test]
fn a_line_of_another_form_gives_nothing() {
    let two = "X={angle deg},Y={cross deg}";
    for line in [
        "",
        "X=",
        "X=1.25",
        "X=1.25,Y=",
        "X=1.25,Y=0.30 ",
        " X=1.25,Y=0.30",
        "X=1.25,Y=0.30X=1.30,Y=0.30",
        "x=1.25,Y=0.30",
        "X= 1.25,Y=0.30",
        "X=1.25;Y=0.30",
        "X=1,25,Y=0.30",
        "X=1.25,Y=nan",
        "X=9.91E37,Y=0.30",
        "X=1.25,Y=0.30\0",
    ] {
        assert_eq!(read(two, line), None, "{line}");
    }
    assert_eq!(read("{angle deg .2} {cross deg .2}", "1.25-0.30"), None);
    assert_eq!(read("{angle deg .2}", "1.2"), None);
    assert_eq!(read("{angle deg .2}", "1.250"), None);
}

#[test]
fn a_wrong_form_is_refused_with_its_position() {
    assert_eq!(refused("X={angle deg},Y={crosss deg}"), (16, TemplateFault::Axis));
    assert_eq!(refused("X={angle mm}"), (2, TemplateFault::Unit));
    assert_eq!(refused("X={angle}"), (2, TemplateFault::Hole));
    assert_eq!(refused("X={angle deg"), (2, TemplateFault::Hole));
    assert_eq!(refused("X={angle deg .x}"), (2, TemplateFault::Hole));
    assert_eq!(refused("X={angle deg}{cross deg}"), (13, TemplateFault::Touching));
    assert_eq!(refused("X={angle deg},{angle deg}"), (14, TemplateFault::Twice));
    assert_eq!(refused("X={number}"), (0, TemplateFault::NoValue));
    assert_eq!(refused(""), (0, TemplateFault::NoValue));
    assert_eq!(refused("{angle deg}"), (0, TemplateFault::Loose));
    assert_eq!(refused("{angle deg .0}"), (0, TemplateFault::Loose));
    assert_eq!(refused("X={angle deg}\r\n"), (13, TemplateFault::Control));
    assert_eq!(refused(&"a".repeat(161)), (0, TemplateFault::TooLong));
    assert_eq!(refused(&"a ".repeat(25)), (48, TemplateFault::TooLong));
    assert_eq!(refused("{angle deg .2}{sign cross}"), (0, TemplateFault::Sign));
    assert_eq!(refused("{angle deg .2}{sign side}"), (14, TemplateFault::Axis));
    assert_eq!(refused("{state S=still} {angle deg .2}"), (0, TemplateFault::Words));
    assert_eq!(refused("{state S} {angle deg .2}"), (0, TemplateFault::Words));
    assert_eq!(refused("{state} {angle deg .2}"), (0, TemplateFault::Hole));
    assert_eq!(refused("{word}{state S=steady} {angle deg .2}"), (6, TemplateFault::Touching));
}
