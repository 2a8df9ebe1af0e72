//! Whether a question could be read before it was answered. A finger already on its way, or the second tap of two,
//! does not answer a question that has just appeared.

use egui::{Id, Response, Ui};

/// A question must be on the screen for this long before a press answers it, in seconds.
const READ_S: f64 = 0.4;

/// A question on the screen.
#[derive(Clone, Copy)]
struct Put {
    question: Id,
    /// The picture in which it was last drawn.
    picture: u64,
    /// Since when it can be seen, in the toolkit's seconds; `None` until the first picture with it is on the screen.
    since: Option<f64>,
    /// True while a finger that came down too early is still down.
    early: bool,
}

/// True if a press of this answer counts now. Call it for every picture in which the answer is drawn.
pub fn before_pressed(ui: &Ui, question: Id, answer: &Response) -> bool {
    let ctx = ui.ctx();
    let (now, picture) = (ctx.input(|i| i.time), ctx.cumulative_frame_nr());
    let key = answer.id.with("put");
    let same = |put: &Put| put.question == question && picture - put.picture <= 1;
    let before = ctx.data(|d| d.get_temp::<Put>(key)).filter(same);
    let since = before.and_then(|put| put.since.or((put.picture < picture).then_some(now)));
    if since.is_none() {
        // Only the second picture proves that the first can be seen.
        ctx.request_repaint();
    }
    let read = since.is_some_and(|since| now - since >= READ_S);
    let down = answer.is_pointer_button_down_on();
    let early = (down && !read) || (before.is_some_and(|put| put.early) && (down || answer.clicked()));
    ctx.data_mut(|d| d.insert_temp(key, Put { question, picture, since, early }));
    read && !early
}
