//! The instrument on a port, as the window sees it.

use window::live::{Live, Port};

/// The port, if one is open.
#[derive(Default)]
pub struct PortSide {
    live: Live,
}

impl PortSide {
    /// What stands on it.
    pub fn live(&self) -> &Live {
        &self.live
    }

    /// True while a port is open or looked for.
    pub fn listening(&self) -> bool {
        self.live.port != Port::None
    }
}
