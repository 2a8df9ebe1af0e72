//! A picture of the window made on the processor: egui's triangles filled one by one, the same on every machine.

use egui::epaint::{ClippedPrimitive, ImageData, Mesh, Primitive, Vertex};
use egui::{Color32, Context, RawInput, TextureId, pos2};
use std::collections::HashMap;

/// A picture.
#[derive(Clone, PartialEq)]
pub struct Picture {
    pub width: usize,
    pub height: usize,
    /// Red, green, blue, row by row.
    pub rgb: Vec<u8>,
}

type Textures = HashMap<TextureId, (usize, usize, Vec<Color32>)>;

/// Runs a user interface for some frames and draws the last.
pub fn of(
    width: usize,
    height: usize,
    scale: f32,
    frames: usize,
    mut ui: impl FnMut(&mut egui::Ui),
) -> Picture {
    let ctx = Context::default();
    let mut textures = Textures::new();
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
        take_textures(&mut textures, &deltas);
        deltas.clear();
        if frame + 1 == frames {
            let ground = ctx.global_style().visuals.panel_fill.to_array();
            picture.rgb.chunks_mut(3).for_each(|rgb| rgb.copy_from_slice(&ground[..3]));
            let primitives = ctx.tessellate(output.shapes, output.pixels_per_point);
            for primitive in &primitives {
                draw(&mut picture, &textures, primitive, output.pixels_per_point);
            }
        }
    }
    picture
}

fn take_textures(textures: &mut Textures, deltas: &egui::TexturesDelta) {
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
    for triangle in mesh.indices.chunks(3) {
        let corner = |i: usize| mesh.vertices[triangle[i] as usize];
        fill(picture, textures, mesh, [corner(0), corner(1), corner(2)], (x.clone(), y.clone()), scale);
    }
}

fn fill(
    picture: &mut Picture,
    textures: &Textures,
    mesh: &Mesh,
    v: [Vertex; 3],
    clip: (std::ops::Range<usize>, std::ops::Range<usize>),
    scale: f32,
) {
    let p = v.map(|v| (v.pos.x * scale, v.pos.y * scale));
    let edge =
        |a: (f32, f32), b: (f32, f32), x: f32, y: f32| (b.0 - a.0) * (y - a.1) - (b.1 - a.1) * (x - a.0);
    let area = edge(p[0], p[1], p[2].0, p[2].1);
    if area == 0.0 {
        return;
    }
    let low =
        |f: fn(&(f32, f32)) -> f32| p.iter().map(f).fold(f32::INFINITY, f32::min).floor().max(0.0) as usize;
    let high = |f: fn(&(f32, f32)) -> f32| p.iter().map(f).fold(0.0, f32::max).ceil() as usize;
    let (tw, th, pixels) = textures.get(&mesh.texture_id).unwrap();
    for y in low(|p| p.1).max(clip.1.start)..high(|p| p.1).min(clip.1.end) {
        for x in low(|p| p.0).max(clip.0.start)..high(|p| p.0).min(clip.0.end) {
            let (cx, cy) = (x as f32 + 0.5, y as f32 + 0.5);
            let w = [(1, 2), (2, 0), (0, 1)].map(|(a, b)| edge(p[a], p[b], cx, cy) / area);
            // An edge shared by two triangles belongs to one of them: the one for which it is a lower or right edge.
            let inside = [(1, 2), (2, 0), (0, 1)].iter().zip(w).all(|(&(a, b), w)| {
                let (dx, dy) = ((p[b].0 - p[a].0) * area.signum(), (p[b].1 - p[a].1) * area.signum());
                w > 0.0 || (w == 0.0 && (dy < 0.0 || (dy == 0.0 && dx > 0.0)))
            });
            if !inside {
                continue;
            }
            let mix = |f: &dyn Fn(&Vertex) -> f32| w[0] * f(&v[0]) + w[1] * f(&v[1]) + w[2] * f(&v[2]);
            let u = (mix(&|v| v.uv.x) * *tw as f32).clamp(0.0, *tw as f32 - 1.0) as usize;
            let t = (mix(&|v| v.uv.y) * *th as f32).clamp(0.0, *th as f32 - 1.0) as usize;
            let texel = pixels[t * tw + u];
            let channel = |i: usize| mix(&|v| f32::from(v.color[i])) * f32::from(texel[i]) / 255.0;
            let alpha = 1.0 - channel(3) / 255.0;
            let to = (y * picture.width + x) * 3;
            for i in 0..3 {
                let under = f32::from(picture.rgb[to + i]);
                picture.rgb[to + i] = (channel(i) + under * alpha).round().clamp(0.0, 255.0) as u8;
            }
        }
    }
}

impl Picture {
    /// Writes it as PNG with at most 256 colours: shades that lie closer together than the comparison sees become one.
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

    /// Reads one; none if there is none.
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

    /// Share of pixels that differ by more than a shade.
    pub fn differs(&self, other: &Self) -> f64 {
        if (self.width, self.height) != (other.width, other.height) {
            return 1.0;
        }
        let pairs = self.rgb.chunks(3).zip(other.rgb.chunks(3));
        let off = pairs.filter(|(a, b)| a.iter().zip(*b).any(|(a, b)| a.abs_diff(*b) > 24)).count();
        off as f64 / (self.width * self.height) as f64
    }
}
