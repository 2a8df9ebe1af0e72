//! Lines as real instruments send them, each read by means of an instrument file alone. The lines are invented after
//! forms that are common practice, no source.

use instrument::{Decoder, Fault, Flags, InstrumentFile, Sample};
use std::fmt::Write as _;

/// The file and a name for the form; what comes; what it means.
struct Case {
    form: &'static str,
    /// Lines of the `[dialect]` table.
    says: &'static str,
    measures: &'static str,
    bytes: &'static [u8],
    means: &'static str,
}

const fn case(
    form: &'static str,
    measures: &'static str,
    says: &'static str,
    bytes: &'static [u8],
    means: &'static str,
) -> Case {
    Case { form, says, measures, bytes, means }
}

#[rustfmt::skip]
const CASES: &[Case] = &[
    case("bare number", "angle", r#"line = "{angle deg .2}""#, b"-1.25\r\n", "angle -1.25 deg"),
    case("named axes", "angle", r#"line = "X={angle deg .2},Y={cross deg .2}""#, b"X=-1.25,Y=+0.30\r\n", "angle -1.25 deg; cross 0.30 deg"),
    case("two columns by spaces", "angle", r#"line = "{angle deg .2} {cross deg .2}""#, b"  1.25   -0.30\n", "fits not"),
    case("padded columns", "angle", r#"line = " {angle deg .2} {cross deg .2}""#, b"   1.25   -0.30\n", "angle 1.25 deg; cross -0.30 deg"),
    case("columns by tabs", "angle", r#"line = "{number} {angle deg .3} {cross deg .3}""#, b"17\t1.250\t-0.301\r\n", "angle 1.250 deg; cross -0.301 deg"),
    case("a tab in the file", "angle", r#"line = "{number}\t{angle deg .3}""#, b"17\t1.250\r\n", "angle 1.250 deg"),
    case("decimal comma", "length", "line = \"{length mm .2} mm\"\ndecimal = \",\"", b"123,45 mm\r\n", "length 123.45 mm"),
    case("decimal comma, columns by semicolons", "angle", "line = \"{angle deg .2};{cross deg .2}\"\ndecimal = \",\"", b"-1,25;0,30\r\n", "angle -1.25 deg; cross 0.30 deg"),
    case("a point where the file says comma", "length", "line = \"{length mm .2} mm\"\ndecimal = \",\"", b"123.45 mm\r\n", "fits not"),
    case("degree sign, Latin-1", "angle", r#"line = "{angle deg .2}°""#, b"-1.25\xB0\r\n", "angle -1.25 deg"),
    case("degree sign, UTF-8", "angle", r#"line = "{angle deg .2}°""#, b"-1.25\xC2\xB0\r\n", "angle -1.25 deg"),
    case("degree sign, code page 437", "angle", r#"line = "{angle deg .2} °""#, b"-1.25 \xF8\r\n", "angle -1.25 deg"),
    case("degree sign, display controller", "angle", r#"line = "{angle deg .1}°""#, b"-1.2\xDF\r\n", "angle -1.2 deg"),
    case("degree sign and temperature", "angle", r#"line = "{angle deg .2}° {temperature degC .1}°C""#, b"0.35\xB0 21.5\xB0C\r\n", "angle 0.35 deg; temperature 21.5 °C"),
    case("ended by a semicolon", "angle", "line = \"A{angle deg .3}\"\nends = \";\"", b"A1.250;A1.251;", "angle 1.250 deg; angle 1.251 deg"),
    case("ended by a semicolon on printed lines", "angle", "line = \"A{angle deg .3}\"\nends = \";\"", b"A1.250;\r\nA1.251;\r\n", "angle 1.250 deg; angle 1.251 deg"),
    case("ended by a carriage return alone", "angle", r#"line = "A{angle deg .2}""#, b"A1.25\rA1.26\r", "angle 1.25 deg; angle 1.26 deg"),
    case("between STX and ETX, a check byte behind", "angle", "line = \"{angle deg .2}\"\nbegins = \"STX\"\nends = \"ETX\"", b"\x021.25\x03q\x02-1.26\x03\x02", "angle 1.25 deg; angle -1.26 deg"),
    case("STX, ended by a carriage return", "angle", "line = \"{angle deg .2}\"\nbegins = \"STX\"\nends = \"CR\"", b"1\x02-1.25\r\x02-1.26\r", "angle -1.25 deg; angle -1.26 deg"),
    case("ended by NUL", "length", "line = \"{length mm .2}\"\nends = \"NUL\"", b"1.25\x001.26\x00", "length 1.25 mm; length 1.26 mm"),
    case("steady, a letter before", "angle", r#"line = "{state S=steady U=moving} {angle deg .2}""#, b"S   1.25\r\nU  -7.50\r\n", "angle 1.25 deg; angle -7.50 deg, moving"),
    case("steady, words", "length", r#"line = "{state ST=steady US=moving OL=over},{length mm .2}mm""#, b"ST,1.25mm\r\nUS,1.50mm\r\nOL,9.99mm\r\n", "length 1.25 mm; length 1.50 mm, moving; length 9.99 mm, barred"),
    case("hold, a letter behind", "angle", r#"line = "{angle deg .2}{state H=hold =steady}""#, b"1.25\r\n1.25H\r\n", "angle 1.25 deg; angle 1.25 deg, barred"),
    case("an unknown letter", "angle", r#"line = "{state S=steady U=moving} {angle deg .2}""#, b"Q 1.25\r\n", "fits not"),
    case("sign behind", "length", r#"line = "{length mm .2}{sign length}mm""#, b"12.34-mm\r\n12.34+mm\r\n12.34mm\r\n", "length -12.34 mm; length 12.34 mm; length 12.34 mm"),
    case("sign behind and apart", "length", r#"line = "{length mm .2}{sign length}""#, b"12.34 -\r\n12.34\r\n", "length -12.34 mm; length 12.34 mm"),
    case("sign apart", "angle", r#"line = "A:{sign angle} {angle deg .2}""#, b"A:-   1.25\r\nA:    1.25\r\nA:+ 0.10\r\n", "angle -1.25 deg; angle 1.25 deg; angle 0.10 deg"),
    case("sign in a field of its own", "angle", r#"line = "{sign angle},{angle deg .2}""#, b"-,1.25\r\n,1.25\r\n", "angle -1.25 deg; angle 1.25 deg"),
    case("sign as a word", "angle", r#"line = "{angle deg .1} {sign angle UP=+ DN=-}""#, b"1.2 UP\r\n1.2 DN\r\n", "angle 1.2 deg; angle -1.2 deg"),
    case("two signs", "angle", r#"line = "{sign angle}{angle deg .2}""#, b"--1.25\r\n", "fits not"),
    case("more than sixteen parts", "angle", r#"line = "{number},{number},{number},{number},{number},{number},{number},{angle deg .3},{number},{number},{number},{temperature degC}""#, b"1,2,3,4,5,6,7,0.125,9,10,11,21.5\r\n", "angle 0.125 deg; temperature 21.5 °C"),
    case("no zero before the point", "length", r#"line = "{length in .4} in""#, b"-.1250 in\r\n.5000 in\r\n", "length -0.1250 in; length 0.5000 in"),
    case("inches padded with zeros", "length", r#"line = "01A{length in .5}""#, b"01A+000.12345\r\n", "length 0.12345 in"),
    case("slope", "angle", r#"line = "{angle mm/m .2} mm/m""#, b"-6.10 mm/m\r\n", "angle -6.10 mm/m"),
    case("degrees and minutes", "angle", "line = \"{angle deg}°{angle arcmin}'\"", b"-0\xB012'\r\n1\xB030'\r\n", "angle -12 arcmin; angle 90 arcmin"),
    case("degrees, minutes and seconds", "angle", "line = '{angle deg}:{angle arcmin}:{angle arcsec .1}'", b"-1:02:03.5\r\n", "angle -3723.5 arcsec"),
    case("sixty minutes", "angle", "line = \"{angle deg}°{angle arcmin}'\"", b"1\xB060'\r\n", "fits not"),
    case("torque with its unit", "torque", r#"line = "{number},{torque Nm .2},Nm,{word}""#, b"12,7.05,Nm,OK\r\n", "torque 7.05 N·m"),
    case("power of ten", "angle", r#"line = "{angle deg}, deg""#, b"+1.250E-01, deg\r\n", "angle 0.1250 deg"),
    case("a letter E behind", "angle", r#"line = "{angle deg .1}E""#, b"1.5E\r\n", "angle 1.5 deg"),
    case("a fault in words", "angle", r#"line = "X={angle deg .2}""#, b"X=Err 1\r\nX=----\r\n", "fits not; fits not"),
];

fn file(case: &Case) -> InstrumentFile {
    let positive = if case.measures == "angle" { "positive = \"arrow end up\"" } else { "" };
    let kind = match case.measures {
        "angle" => "inclinometer",
        "torque" => "torque-wrench",
        _ => "caliper",
    };
    let text = format!(
        "name = \"invented\"\nkind = \"{kind}\"\nresolution = 0.01\n[port]\nbaud = 9600\n[dialect]\nspeaks = \
         \"lines\"\n{}\n[axes]\nmeasures = \"{}\"\n{positive}\n",
        case.says, case.measures
    );
    InstrumentFile::read(&text).unwrap_or_else(|why| panic!("{}: {why}", case.form))
}

fn words(next: Result<Sample, Fault>) -> String {
    match next {
        Err(Fault::Unfit { .. }) => "fits not".to_owned(),
        Err(other) => other.to_string(),
        Ok(sample) => {
            let mut said = format!("{} {} {}", sample.axis.word(), sample.value, sample.unit.symbol());
            if sample.flags.bars() {
                said.push_str(", barred");
            } else if sample.flags.contains(Flags::MOVING) {
                said.push_str(", moving");
            }
            said
        }
    }
}

#[test]
fn every_form_is_read_by_means_of_its_file_alone() {
    let mut wrong = String::new();
    for case in CASES {
        // However the bytes are split, and whatever came before the port was opened.
        for piece in [1, 3, 1_000] {
            let mut decoder = Decoder::new(&file(case).dialect);
            decoder.silence();
            let mut all = Vec::new();
            for piece in case.bytes.chunks(piece) {
                decoder.each(piece, |next| all.push(words(next)));
            }
            let said = all.join("; ");
            if said != case.means {
                writeln!(wrong, "{} by {piece}: {said}, not {}", case.form, case.means).unwrap();
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    assert!(CASES.len() >= 30);
}

/// A line that does not fit is quoted, with unprintable characters as numbers.
#[test]
fn a_line_that_does_not_fit_is_shown() {
    let mut decoder = Decoder::new(&file(&CASES[1]).dialect);
    decoder.silence();
    let mut said = Vec::new();
    decoder.each(b"X=1.25\xB0,Y=0.30\x07\r\n", |next| said.extend(next.err().map(|fault| fault.to_string())));
    assert_eq!(said, ["a line that does not fit the instrument's file: `X=1.25\\xB0,Y=0.30\\x07`"]);
}
