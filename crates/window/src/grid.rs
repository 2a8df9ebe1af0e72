//! Where things are: one grid for a small panel, one for a larger.
//!
//! Both are given for 800 x 480 and 1280 x 800 at scale 1; extra room goes to the plate and the lists.

use egui::{Pos2, Rangef, Rect, pos2, vec2};

/// Least width and height of the window's content; a smaller window is drawn to a smaller scale.
pub const LEAST: egui::Vec2 = vec2(800.0, 480.0);
/// Least height of the roomy grid: below it its plate would be smaller than that of the compact one.
const ROOMY_HEIGHT: f32 = 720.0;
/// The most cells that the strip has.
pub const STRIP_CELLS: usize = 12;

/// How many things of that size, with a gap between them, there is room for; at least one.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few")]
pub fn fit(room: f32, each: f32, gap: f32) -> usize {
    ((room + gap) / (each + gap)).floor().max(1.0) as usize
}

/// The cells of a table that fills an area, counted row by row.
pub fn table(area: Rect, columns: usize, rows: usize, gap: f32) -> impl Fn(usize) -> Rect {
    let each = |room: f32, n: usize| (room - gap * (n as f32 - 1.0)) / n as f32;
    let size = vec2(each(area.width(), columns), each(area.height(), rows));
    move |n| {
        let at = vec2((n % columns) as f32, (n / columns) as f32);
        Rect::from_min_size(area.min + at * (size + vec2(gap, gap)), size)
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// Under 1100 wide or under 720 high.
    Compact,
    Roomy,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    pub size: Size,
    pub screen: Rect,
}

impl Grid {
    pub fn of(screen: Rect) -> Self {
        let small = screen.width() < 1100.0 || screen.height() < ROOMY_HEIGHT;
        Self { size: if small { Size::Compact } else { Size::Roomy }, screen }
    }

    /// The number for this grid.
    pub const fn pick(&self, compact: f32, roomy: f32) -> f32 {
        match self.size {
            Size::Compact => compact,
            Size::Roomy => roomy,
        }
    }

    pub fn roomy(&self) -> bool {
        self.size == Size::Roomy
    }

    /// Margin of the whole screen without the rail.
    pub const fn edge(&self) -> f32 {
        self.pick(16.0, 24.0)
    }

    /// Gap between two neighbouring things.
    pub const fn gap(&self) -> f32 {
        self.pick(12.0, 16.0)
    }

    /// A rectangle by its edges, measured from the top left of the window.
    pub fn rect(&self, x: impl Into<Rangef>, y: impl Into<Rangef>) -> Rect {
        Rect::from_x_y_ranges(x, y).translate(self.screen.min.to_vec2())
    }

    /// Where the body begins and ends beside the rail.
    pub fn body(&self) -> Rangef {
        Rangef::new(self.pick(88.0, 136.0), self.screen.width() - self.edge().min(24.0))
    }

    /// Where the body begins and ends without the rail.
    pub fn whole(&self) -> Rangef {
        Rangef::new(self.edge(), self.screen.width() - self.edge())
    }

    pub fn rail(&self, cell: usize) -> Rect {
        let (wide, high) = (self.pick(72.0, 112.0), self.pick(80.0, 104.0));
        let top = high * cell as f32;
        self.rect(0.0..=wide, top..=top + high)
    }

    pub fn title(&self, x: impl Into<Rangef>) -> Rect {
        self.rect(x, self.title_y())
    }

    /// Top and bottom of the title row.
    pub fn title_y(&self) -> Rangef {
        Rangef::new(self.pick(8.0, 24.0), self.pick(72.0, 112.0))
    }

    /// How much higher the window is than the grid's design height; below zero if it is lower.
    pub fn spare(&self) -> f32 {
        (self.screen.height() - self.pick(480.0, 800.0)).max(self.pick(0.0, -80.0))
    }

    /// The plate of Measure; on a larger panel the evidence stands beside it.
    pub fn plate(&self) -> Rect {
        let Rangef { min: left, max: right } = self.body();
        let right = if self.roomy() { right - 300.0 } else { right };
        let top = self.pick(76.0, 120.0);
        self.rect(left..=right, top..=top + self.pick(164.0, 264.0) + self.spare())
    }

    /// The evidence beside the plate, on a larger panel.
    pub fn evidence(&self) -> Option<Rect> {
        let right = self.body().max;
        let plate = self.plate();
        self.roomy()
            .then(|| Rect::from_min_max(pos2(plate.right() + 24.0, plate.top()), pos2(right, plate.bottom())))
    }

    /// The row that says what to do.
    pub fn instruction(&self) -> Rect {
        let below = self.spare();
        let y = self.pick(244.0, 392.0) + below..=self.pick(308.0, 472.0) + below;
        self.rect(self.body(), y)
    }

    pub fn strip(&self) -> Rect {
        let top = self.pick(316.0, 508.0) + self.spare();
        self.rect(self.body(), top..=top + self.pick(76.0, 96.0))
    }

    /// Top and bottom of the button row.
    pub fn buttons_y(&self) -> Rangef {
        let bottom = self.screen.height() - self.pick(8.0, 16.0);
        Rangef::new(bottom - self.pick(68.0, 80.0), bottom)
    }

    pub fn buttons(&self, x: impl Into<Rangef>) -> Rect {
        self.rect(x, self.buttons_y())
    }

    /// Between the title row and the button row.
    pub fn middle(&self, x: impl Into<Rangef>) -> Rect {
        let top = self.pick(80.0, 128.0);
        self.rect(x, top..=self.buttons_y().min - self.pick(8.0, 20.0))
    }

    /// Splits a row into cells of these weights with the gap between them.
    pub fn cells(&self, row: Rect, gap: f32, weights: &[f32]) -> Vec<Rect> {
        let sum: f32 = weights.iter().sum();
        let free = row.width() - gap * (weights.len().saturating_sub(1)) as f32;
        let mut x = row.left();
        let cell = |w: &f32| {
            let wide = free * w / sum;
            let rect = Rect::from_min_size(Pos2::new(x, row.top()), vec2(wide, row.height()));
            x += wide + gap;
            rect
        };
        weights.iter().map(cell).collect()
    }

    /// The same for a number of cells known at compile time.
    pub fn split<const N: usize>(&self, row: Rect, gap: f32, weights: [f32; N]) -> [Rect; N] {
        let mut cells = self.cells(row, gap, &weights).into_iter();
        weights.map(|_| cells.next().unwrap_or(Rect::NOTHING))
    }
}
