//! A picture of the window made on the processor: egui's triangles filled one by one, the same on every machine.

use super::letters::{For, Lent, Letters};
use super::paint::{self, Painted};
use egui::epaint::{ClippedPrimitive, ImageData, Primitive, Vertex};
use egui::{Color32, RawInput, TextureId, pos2};
use std::collections::HashMap;

/// A picture.
#[derive(Clone, PartialEq)]
pub struct Picture {
    pub width: usize,
    pub height: usize,
    /// Red, green, blue, row by row.
    pub rgb: Vec<u8>,
}

pub type Textures = HashMap<TextureId, (usize, usize, Vec<Color32>)>;

/// Runs a user interface for some frames and draws the last.
pub fn of(width: usize, height: usize, scale: f32, frames: usize, ui: impl FnMut(&mut egui::Ui)) -> Picture {
    with_shapes(width, height, scale, frames, ui).0
}

/// The same, with what was painted.
pub fn with_shapes(
    width: usize,
    height: usize,
    scale: f32,
    frames: usize,
    mut ui: impl FnMut(&mut egui::Ui),
) -> (Picture, Vec<Painted>) {
    let mut letters = Letters::lent(For::Pictures);
    let Lent { ctx, textures } = letters.get();
    let mut painted = Vec::new();
    let mut picture = Picture { width, height, rgb: vec![0; width * height * 3] };
    for frame in 0..frames {
        let size = egui::vec2(width as f32, height as f32) / (scale * ctx.zoom_factor());
        let mut input = RawInput {
            screen_rect: Some(egui::Rect::from_min_size(pos2(0.0, 0.0), size)),
            time: Some(frame as f64),
            ..RawInput::default()
        };
        if let Some(view) = input.viewports.get_mut(&egui::ViewportId::ROOT) {
            view.native_pixels_per_point = Some(scale);
        }
        let mut output = ctx.run_ui(input, &mut ui);
        let mut deltas = std::mem::take(&mut output.textures_delta);
        take_textures(textures, &deltas);
        deltas.clear();
        if frame + 1 == frames {
            let ground = ctx.global_style().visuals.panel_fill.to_array();
            picture.rgb.chunks_mut(3).for_each(|rgb| rgb.copy_from_slice(&ground[..3]));
            painted = paint::all(&output.shapes);
            let primitives = ctx.tessellate(output.shapes, output.pixels_per_point);
            for primitive in &primitives {
                draw(&mut picture, textures, primitive, output.pixels_per_point);
            }
        }
    }
    (picture, painted)
}

/// Brings pictures of letters up to date.
pub fn take_textures(textures: &mut Textures, deltas: &egui::TexturesDelta) {
    for (id, list) in &deltas.set {
        for delta in list {
            let ImageData::Color(image) = &delta.image;
            let [w, h] = image.size;
            match delta.pos {
                None => {
                    textures.insert(*id, (w, h, image.pixels.clone()));
                }
                Some([x0, y0]) => {
                    let (tw, _, pixels) = textures.get_mut(id).unwrap();
                    for y in 0..h {
                        let to = (y0 + y) * *tw + x0;
                        pixels[to..to + w].copy_from_slice(&image.pixels[y * w..(y + 1) * w]);
                    }
                }
            }
        }
    }
}

fn draw(picture: &mut Picture, textures: &Textures, primitive: &ClippedPrimitive, scale: f32) {
    let Primitive::Mesh(mesh) = &primitive.primitive else { return };
    let clip = primitive.clip_rect;
    let bound = |v: f32, most: usize| (v * scale).round().clamp(0.0, most as f32) as usize;
    let x = bound(clip.min.x, picture.width)..bound(clip.max.x, picture.width);
    let y = bound(clip.min.y, picture.height)..bound(clip.max.y, picture.height);
    let (texture, clip) = (textures.get(&mesh.texture_id).unwrap(), (x, y));
    for triangle in mesh.indices.chunks(3) {
        let corner = |i: usize| mesh.vertices[triangle[i] as usize];
        fill(picture, texture, [corner(0), corner(1), corner(2)], &clip, scale);
    }
}

/// A side of a triangle, from one corner to the next.
#[derive(Clone, Copy)]
struct Side {
    from: (f32, f32),
    along: (f32, f32),
    area: f32,
    /// Whether a point exactly on the side is inside: a side shared by two triangles belongs to the one of which it
    /// is a lower or a right side.
    ours: bool,
}

impl Side {
    fn new(a: (f32, f32), b: (f32, f32), area: f32) -> Self {
        let along = (b.0 - a.0, b.1 - a.1);
        let (dx, dy) = (along.0 * area.signum(), along.1 * area.signum());
        Self { from: a, along, area, ours: dy < 0.0 || (dy == 0.0 && dx > 0.0) }
    }

    /// The weight of the opposite corner: above zero inside.
    fn weight(&self, x: f32, y: f32) -> f32 {
        (self.along.0 * (y - self.from.1) - self.along.1 * (x - self.from.0)) / self.area
    }

    fn holds(&self, x: f32, y: f32) -> bool {
        let w = self.weight(x, y);
        w > 0.0 || (w == 0.0 && self.ours)
    }

    /// Narrows the pixels of a row to those on the inner side, with one or two to spare.
    fn narrow(&self, y: f32, row: &mut std::ops::Range<usize>) {
        if self.along.1 == 0.0 {
            return;
        }
        let at = self.from.0 + self.along.0 * (y - self.from.1) / self.along.1 - 0.5;
        if (self.along.1 < 0.0) == (self.area > 0.0) {
            row.start = row.start.max((at.floor() - 1.0).max(0.0) as usize);
        } else {
            row.end = row.end.min((at.ceil() + 2.0).max(0.0) as usize);
        }
    }
}

/// The place in a texture of what a triangle shows at these weights of its corners.
fn texel(v: &[Vertex; 3], w: [f32; 3], (tw, th, _): &(usize, usize, Vec<Color32>)) -> usize {
    let u = w[0] * v[0].uv.x + w[1] * v[1].uv.x + w[2] * v[2].uv.x;
    let t = w[0] * v[0].uv.y + w[1] * v[1].uv.y + w[2] * v[2].uv.y;
    let u = (u * *tw as f32).clamp(0.0, *tw as f32 - 1.0) as usize;
    let t = (t * *th as f32).clamp(0.0, *th as f32 - 1.0) as usize;
    t * tw + u
}

/// Premultiplied, 0 to 255.
fn colour_at(v: &[Vertex; 3], w: [f32; 3], texel: Color32) -> [f32; 4] {
    let texel = texel.to_array();
    let [a, b, c] = [v[0].color.to_array(), v[1].color.to_array(), v[2].color.to_array()];
    let mut out = [0.0; 4];
    let mut i = 0;
    while i < 4 {
        let mixed = w[0] * f32::from(a[i]) + w[1] * f32::from(b[i]) + w[2] * f32::from(c[i]);
        out[i] = mixed * f32::from(texel[i]) / 255.0;
        i += 1;
    }
    out
}

/// Written without iterators: in an unoptimised build these tests spend most of their time here.
fn fill(
    picture: &mut Picture,
    texture: &(usize, usize, Vec<Color32>),
    v: [Vertex; 3],
    clip: &(std::ops::Range<usize>, std::ops::Range<usize>),
    scale: f32,
) {
    let p = v.map(|v| (v.pos.x * scale, v.pos.y * scale));
    let area = (p[1].0 - p[0].0) * (p[2].1 - p[0].1) - (p[1].1 - p[0].1) * (p[2].0 - p[0].0);
    if area == 0.0 {
        return;
    }
    let [a, b, c] = [(1, 2), (2, 0), (0, 1)].map(|(from, to)| Side::new(p[from], p[to], area));
    let one =
        v[0].color == v[1].color && v[1].color == v[2].color && v[0].uv == v[1].uv && v[1].uv == v[2].uv;
    let first = [1.0, 0.0, 0.0];
    let solid = one.then(|| colour_at(&v, first, texture.2[texel(&v, first, texture)]));
    let bound = |least: f32, most: f32, clip: &std::ops::Range<usize>| {
        (least.floor().max(0.0) as usize).max(clip.start)..(most.ceil().max(0.0) as usize).min(clip.end)
    };
    let columns = bound(p[0].0.min(p[1].0).min(p[2].0), p[0].0.max(p[1].0).max(p[2].0), &clip.0);
    for y in bound(p[0].1.min(p[1].1).min(p[2].1), p[0].1.max(p[1].1).max(p[2].1), &clip.1) {
        let cy = y as f32 + 0.5;
        let mut row = columns.clone();
        a.narrow(cy, &mut row);
        b.narrow(cy, &mut row);
        c.narrow(cy, &mut row);
        let inside = |x: usize| {
            let cx = x as f32 + 0.5;
            a.holds(cx, cy) && b.holds(cx, cy) && c.holds(cx, cy)
        };
        while row.start < row.end && !inside(row.start) {
            row.start += 1;
        }
        while row.start < row.end && !inside(row.end - 1) {
            row.end -= 1;
        }
        if row.start >= row.end {
            continue;
        }
        let at = (y * picture.width + row.start) * 3;
        if let Some([red, green, blue, alpha]) = solid
            && alpha >= 255.0
        {
            let whole = [red, green, blue].map(|c| c.round() as u8).repeat(row.len());
            picture.rgb[at..at + whole.len()].copy_from_slice(&whole);
            continue;
        }
        let (mut x, mut to) = (row.start, at);
        while x < row.end {
            let cx = x as f32 + 0.5;
            let [red, green, blue, alpha] = match solid {
                Some(colour) => colour,
                None => {
                    let weights = [a.weight(cx, cy), b.weight(cx, cy), c.weight(cx, cy)];
                    let texel = texture.2[texel(&v, weights, texture)];
                    // Most of a letter's rectangle is empty.
                    if texel == Color32::TRANSPARENT {
                        (x, to) = (x + 1, to + 3);
                        continue;
                    }
                    colour_at(&v, weights, texel)
                }
            };
            let through = 1.0 - alpha / 255.0;
            let rgb = &mut picture.rgb;
            rgb[to] = (red + f32::from(rgb[to]) * through).round() as u8;
            rgb[to + 1] = (green + f32::from(rgb[to + 1]) * through).round() as u8;
            rgb[to + 2] = (blue + f32::from(rgb[to + 2]) * through).round() as u8;
            (x, to) = (x + 1, to + 3);
        }
    }
}

impl Picture {
    /// Writes it as PNG with at most 256 colours: shades too close for the comparison to see become one.
    pub fn save(&self, path: &std::path::Path) {
        let (colours, at) =
            (2..=5).map(|shift| self.indexed(shift)).find(|(all, _)| all.len() <= 256).unwrap();
        let file = std::io::BufWriter::new(std::fs::File::create(path).unwrap());
        let mut encoder = png::Encoder::new(file, self.width as u32, self.height as u32);
        encoder.set_color(png::ColorType::Indexed);
        encoder.set_palette(colours.concat());
        encoder.set_compression(png::Compression::High);
        encoder.set_filter(png::Filter::NoFilter);
        encoder.write_header().unwrap().write_image_data(&at).unwrap();
    }

    /// The colours that differ in more than their `shift` low bits, each by its first shade; and the picture in them.
    fn indexed(&self, shift: u32) -> (Vec<[u8; 3]>, Vec<u8>) {
        let mut places: HashMap<[u8; 3], usize> = HashMap::new();
        let mut colours = Vec::new();
        let mut at = Vec::new();
        for rgb in self.rgb.chunks(3) {
            let rgb = [rgb[0], rgb[1], rgb[2]];
            let place = *places.entry(rgb.map(|c| c >> shift)).or_insert_with(|| {
                colours.push(rgb);
                colours.len() - 1
            });
            at.push(place as u8);
        }
        (colours, at)
    }

    /// Reads one; `None` if there is none.
    pub fn load(path: &std::path::Path) -> Option<Self> {
        let file = std::io::BufReader::new(std::fs::File::open(path).ok()?);
        let mut decoder = png::Decoder::new(file);
        decoder.set_transformations(png::Transformations::EXPAND);
        let mut reader = decoder.read_info().unwrap();
        let mut rgb = vec![0; reader.output_buffer_size().unwrap()];
        let info = reader.next_frame(&mut rgb).unwrap();
        assert_eq!(info.color_type, png::ColorType::Rgb);
        Some(Self { width: info.width as usize, height: info.height as usize, rgb })
    }

    /// What is drawn in a part of it, row by row: where it is lighter or darker, in grey, than the part's first
    /// pixel.
    pub fn ink(&self, x: std::ops::Range<usize>, y: std::ops::Range<usize>) -> Vec<Vec<bool>> {
        let grey = |x: usize, y: usize| {
            let at = (y * self.width + x) * 3;
            (299 * u32::from(self.rgb[at])
                + 587 * u32::from(self.rgb[at + 1])
                + 114 * u32::from(self.rgb[at + 2]))
                / 1000
        };
        let ground = grey(x.start, y.start);
        y.map(|y| x.clone().map(|x| grey(x, y).abs_diff(ground) > 40).collect()).collect()
    }

    /// Share of pixels that differ by more than a shade.
    pub fn differs(&self, other: &Self) -> f64 {
        if (self.width, self.height) != (other.width, other.height) {
            return 1.0;
        }
        // Most of a picture is ground, so a stretch of sixteen pixels is looked at only where it is not the same.
        let stretches = self.rgb.chunks(48).zip(other.rgb.chunks(48)).filter(|(a, b)| a != b);
        let mut off = 0_usize;
        for (a, b) in stretches {
            let mut at = 0;
            while at < a.len() {
                let far = |i: usize| a[i].abs_diff(b[i]) > 24;
                off += usize::from(far(at) || far(at + 1) || far(at + 2));
                at += 3;
            }
        }
        off as f64 / (self.width * self.height) as f64
    }
}
