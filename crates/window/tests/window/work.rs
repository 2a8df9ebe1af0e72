//! What a renderer on the processor has to do for a frame does not grow with what was measured.

use crate::common::Bench;
use egui::epaint::{Primitive, Vertex};
use egui::{Context, RawInput, Rect, pos2, vec2};
use window::Screen;
use window::trace::Trace;

/// Side of the squares that such a renderer fills at once.
const SIDE: f32 = 4.0;
const SIZE: egui::Vec2 = vec2(1280.0, 800.0);

/// The squares a triangle touches, row by row.
fn squares(corners: [&Vertex; 3]) -> usize {
    let ys = corners.map(|v| v.pos.y.clamp(0.0, SIZE.y));
    let (top, bottom) = (ys.iter().copied().fold(SIZE.y, f32::min), ys.iter().copied().fold(0.0, f32::max));
    let rows = (top / SIDE) as usize..(bottom / SIDE).ceil() as usize;
    rows.map(|row| {
        let (from, to) = (row as f32 * SIDE, (row + 1) as f32 * SIDE);
        let (mut left, mut right) = (f32::INFINITY, f32::NEG_INFINITY);
        for (a, b) in [(0, 1), (1, 2), (2, 0)].map(|(a, b)| (corners[a].pos, corners[b].pos)) {
            for y in [from, to, a.y, b.y] {
                let at = if a.y == b.y { 0.0 } else { (y - a.y) / (b.y - a.y) };
                if (from..=to).contains(&y) && (0.0..=1.0).contains(&at) {
                    let x = a.x + at * (b.x - a.x);
                    (left, right) = (left.min(x), right.max(x));
                }
            }
        }
        if left > right { 0 } else { (right / SIDE) as usize - (left / SIDE) as usize + 1 }
    })
    .sum()
}

/// Squares of the second frame of a watch, as parts of all that the screen has.
fn work(bench: &mut Bench, samples: u32, value: impl Fn(u32) -> f64) -> f64 {
    let mut trace = Trace::of("level@root-post".parse().unwrap());
    (0..samples).for_each(|i| trace.push(f64::from(i) * 0.1, value(i)));
    bench.model.wing.as_mut().unwrap().trace = Some(trace);
    bench.face.go(Screen::Watch);
    let ctx = Context::default();
    let mut touched = 0;
    for frame in 0..2 {
        let screen_rect = Some(Rect::from_min_size(pos2(0.0, 0.0), SIZE));
        let input = RawInput { screen_rect, time: Some(f64::from(frame)), ..RawInput::default() };
        let mut output = ctx.run_ui(input, |ui| bench.frame(ui));
        output.textures_delta.clear();
        touched = 0;
        for primitive in ctx.tessellate(output.shapes, 1.0) {
            let Primitive::Mesh(mesh) = primitive.primitive else { continue };
            let at = |i: u32| &mesh.vertices[i as usize];
            touched += mesh.indices.chunks(3).map(|t| squares([at(t[0]), at(t[1]), at(t[2])])).sum::<usize>();
        }
    }
    touched as f64 / f64::from(SIZE.x * SIZE.y / SIDE / SIDE)
}

/// Each sample anywhere, so that the trace fills its chart; and each near the one before.
#[test]
fn a_frame_of_any_trace_is_painted_a_few_times_over_at_most() {
    let mut bench = Bench::empty();
    let least = work(&mut bench, 2, f64::from);
    for samples in [100, 250, 500, 1_000, 5_000, 1_000_000] {
        let anywhere = work(&mut bench, samples, |i| f64::from(i.wrapping_mul(2_654_435_761) >> 8) * 1e-9);
        let near = work(&mut bench, samples, |i| 0.05 + f64::from(i % 977) * 1e-5);
        println!("{samples} samples: {anywhere:.1} and {near:.1}, where two take {least:.1}");
        assert!(anywhere < least + 1.5 && near < least + 1.5, "{samples}: {anywhere:.1}, {near:.1}");
    }
}
