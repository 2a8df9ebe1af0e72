//! A recording played in place of a port.

use super::Desk;

impl Desk {
    pub fn play(&mut self, device: session::gauges::Connected) {
        self.port.play(device);
        if let Some(session) = &self.session {
            self.port.look(session);
        }
    }

    /// Moves the present on, both the bench's clock and the calendar.
    pub fn play_at(&mut self, at_ms: u64, at: record::At) {
        self.port.play_to(at_ms);
        if let Some(session) = &mut self.session {
            session.set_clock(at);
        }
    }

    pub fn play_event(&mut self, event: &bench::PortEvent) {
        let Some(session) = &mut self.session else { return };
        let said = self.port.play_event(session, event);
        self.heard(said);
    }

    pub fn sounds_to(&mut self, out: impl std::io::Write + 'static) {
        self.sound = super::Sound::to(out);
    }

    pub fn bench_view(&self) -> bench::View {
        self.session.as_ref().map_or_else(bench::View::default, |session| self.port.view(session))
    }
}
