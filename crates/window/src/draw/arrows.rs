//! Arrows: up, down and along, and the way a screw turns.

use egui::{Color32, Painter, Pos2, Shape, Stroke, Vec2, vec2};
use std::f32::consts::TAU;

/// Half the width of an arrow's head, as a share of the arrow's height.
pub const HEAD: f32 = 0.42;

/// A full arrow of that height, pointing along a direction of length one.
pub fn straight(painter: &Painter, at: Pos2, height: f32, along: Vec2, colour: Color32) {
    let across = along.rot90();
    let (half, neck, shaft, head) = (height / 2.0, height * 0.04, height * 0.15, height * HEAD);
    let at = |a: f32, b: f32| at + along * a + across * b;
    painter.add(Shape::convex_polygon(
        vec![at(half, 0.0), at(-neck, head), at(-neck, -head)],
        colour,
        Stroke::NONE,
    ));
    painter.add(Shape::convex_polygon(
        vec![at(-neck + 0.5, shaft), at(-half, shaft), at(-half, -shaft), at(-neck + 0.5, -shaft)],
        colour,
        Stroke::NONE,
    ));
}

/// A hollow arrow, for what is known only roughly.
pub fn hollow(painter: &Painter, at: Pos2, height: f32, along: Vec2, line: Stroke) {
    let across = along.rot90();
    let (half, neck, shaft, head) = (height / 2.0, height * 0.04, height * 0.15, height * HEAD);
    let corners = [
        (half, 0.0),
        (-neck, head),
        (-neck, shaft),
        (-half, shaft),
        (-half, -shaft),
        (-neck, -shaft),
        (-neck, -head),
    ];
    let points = corners.iter().map(|(a, b)| at + along * *a + across * *b).collect();
    painter.add(Shape::closed_line(points, line));
}

pub const UP: Vec2 = Vec2::new(0.0, -1.0);
pub const DOWN: Vec2 = Vec2::new(0.0, 1.0);
pub const RIGHT: Vec2 = Vec2::new(1.0, 0.0);
pub const LEFT: Vec2 = Vec2::new(-1.0, 0.0);

/// The way a screw is turned, as seen on its head.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    Clockwise,
    Anticlockwise,
}

impl Turn {
    /// Which way a number of turns goes; below zero is anticlockwise.
    pub fn of(turns: f64) -> Self {
        if turns > 0.0 { Self::Clockwise } else { Self::Anticlockwise }
    }
}

pub fn around(painter: &Painter, at: Pos2, radius: f32, turn: Turn, colour: Color32) {
    let way = if turn == Turn::Clockwise { 1.0 } else { -1.0 };
    let width = radius * 0.3;
    let place = |angle: f32| at + vec2(way * angle.sin(), -angle.cos()) * radius;
    // From the lower left around the top to the lower right, and mirrored the other way.
    let (from, to) = (-0.36 * TAU, 0.36 * TAU);
    let points: Vec<Pos2> = (0..=24_u8).map(|i| place(from + (to - from) * f32::from(i) / 24.0)).collect();
    painter.add(Shape::line(points, Stroke::new(width, colour)));
    let end = place(to);
    let along = vec2(way * to.cos(), to.sin());
    let across = along.rot90();
    let tip = end + along * radius * 0.55;
    painter.add(Shape::convex_polygon(
        vec![tip, end + across * radius * 0.42, end - across * radius * 0.42],
        colour,
        Stroke::NONE,
    ));
}
