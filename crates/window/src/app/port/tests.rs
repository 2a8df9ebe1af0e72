//! A recording in place of a port, for stories.

use super::{Open, PortSide};
use bench::{PortEvent, Said};
use session::gauges::Connected;
use session::port::Driver;
use session::{Session, SessionError};

impl PortSide {
    pub fn play(&mut self, device: Connected) {
        self.open = Some(Open::new(Driver::recording(&device)));
    }

    pub fn play_event(
        &mut self,
        session: &mut Session,
        event: &PortEvent,
    ) -> Result<Vec<Said>, SessionError> {
        self.open.as_mut().map_or(Ok(Vec::new()), |open| open.event(session, event))
    }

    /// Moves the present on.
    pub fn play_to(&mut self, at_ms: u64) {
        if let Some(open) = &mut self.open {
            open.driver.play_to(at_ms);
        }
    }

    pub fn look(&mut self, session: &Session) {
        if let Some(open) = &mut self.open {
            open.driver.look(session);
        }
    }
}
