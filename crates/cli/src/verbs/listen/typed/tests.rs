use super::Typed;
use bench::{Answer, Key, Measured, Question};
use session::port::Typed as When;

#[test]
fn lines_are_read_as_they_are_meant() {
    let read = |line| Typed::read(line, None, When::Seeing);
    assert_eq!(read("  "), Typed::Key(Key::Main));
    assert_eq!(read("s incidence@S4"), Typed::Choose("incidence@S4".to_owned()));
    let reason = "it stood on a rivet".to_owned();
    assert_eq!(read("b  it stood on a rivet "), Typed::Key(Key::Withdraw { reason }));
    assert_eq!(read("take it"), Typed::Unknown("take it".to_owned()));
}

#[test]
fn answers_come_first_while_something_is_asked() {
    let which = Question::Which { candidates: Vec::new() };
    let read = |line, asked| Typed::read(line, asked, When::Seeing);
    assert_eq!(read("2", Some(&which)), Typed::Key(Key::Answer(Answer::Other(1))));
    assert_eq!(read("n", Some(&which)), Typed::Key(Key::Answer(Answer::No)));
    assert_eq!(read("0", Some(&which)), Typed::Unknown("0".to_owned()));
    assert_eq!(read("n", None), Typed::Key(Key::Skip));
}

#[test]
fn an_enter_that_came_before_the_question_is_no_yes() {
    let (foot, effect) = ("tip aft foot".to_owned(), assess::advice::Effect::Up);
    let measured = Measured { foot, effect, mm: 2.8, u_mm: 0.1, turns: None, misfit: 0.0 };
    let record = Question::Record { measured, others: Vec::new() };
    let read = |line, typed| Typed::read(line, Some(&record), typed);
    assert_eq!(read("", When::Seeing), Typed::Key(Key::Main));
    assert_eq!(read(" ", When::BeforeAsked), Typed::TooEarly);
    assert_eq!(read("o", When::BeforeAsked), Typed::Key(Key::Answer(Answer::Other(usize::MAX))));
    assert_eq!(read("q", When::BeforeAsked), Typed::Quit);
}
