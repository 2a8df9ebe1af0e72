//! The parts of a plan, each from its table.

use super::checks::{Names, check_stations};
use super::patterns::Patterns;
use super::supports;
use super::table::{Name, Table};
use crate::plan::{
    Acceptance, Attitude, Bay, Bush, Direction, Line, Material, Plan, Rule, Shaft, Side, Spar, Spot, Stage,
    Station, Tolerances, Wing,
};
use crate::{Date, Instrument, InstrumentKind, Limits};
use quantity::{Degrees, Kind, Millimetres};

/// Up and aft by their words.
pub(super) const DIRECTIONS: [(&str, Direction); 2] = [("up", Direction::Up), ("aft", Direction::Aft)];
const QUANTITIES: [(&str, Kind); 4] = [
    ("angle", Kind::Angle),
    ("length", Kind::Length),
    ("torque", Kind::Torque),
    ("temperature", Kind::Temperature),
];

/// The whole plan; `None` where so much is wrong that there is none.
pub fn plan(root: &Table<'_, '_>, most: usize) -> Option<Plan> {
    let mut names = Names::new(root.mistakes());
    let wing_table = root.table("wing", "[wing]");
    if wing_table.is_none() && root.value("wing").is_none() {
        root.missing("[wing]", "write a [wing] table with name and side");
    }
    let mut stations = stations(root, most, &mut names);
    check_stations(root, &stations);
    stations.sort_by(|a, b| a.span.value().total_cmp(&b.span.value()));
    let wing = wing_table.and_then(|t| wing(t, &stations));
    let spars = list(root, "spar", "a [[spar]]", most, |t| spar(t, &mut names));
    let supports = list(root, "support", "a [[support]]", most, |t| supports::support(t, &spars, &mut names));
    let posts = list(root, "post", "a [[post]]", most, |t| supports::post(t, most, &mut names));
    let lines = list(root, "line", "a [[line]]", most, |t| line(t, &spars));
    let bays = list(root, "bay", "a [[bay]]", most, |t| bay(t, &mut names));
    let shaft = root.table("shaft", "[shaft]").and_then(shaft);
    let mut bushes = list(root, "bush", "a [[bush]]", most, |t| bush(t, &mut names));
    bushes.sort_by(|a, b| a.span.value().total_cmp(&b.span.value()));
    let spots = list(root, "spot", "a [[spot]]", most, |t| spot(t, &mut names));
    let instruments = list(root, "instrument", "an [[instrument]]", most, |t| instrument(t, &mut names));
    let rule = root.table("rule", "[rule]").map_or_else(Rule::default, rule);
    let tolerances = root.table("tolerance", "[tolerance]").map_or_else(Tolerances::default, tolerances);
    root.known("stage");
    let mut plan = Plan {
        wing: wing?,
        rule,
        tolerances,
        stations,
        spars,
        supports,
        posts,
        lines,
        bays,
        shaft,
        bushes,
        spots,
        stages: Vec::new(),
        instruments,
    };
    let patterns = Patterns::of(&plan, root.mistakes());
    plan.stages = list(root, "stage", "a [[stage]]", most, |t| stage(t, &patterns, &mut names));
    Some(plan)
}

/// Every table of a list, read and finished; those that could not be read are left out, their mistakes being noted.
pub(super) fn list<'a, 'i, T>(
    root: &Table<'a, 'i>,
    key: &'static str,
    name: &'static str,
    most: usize,
    mut read: impl FnMut(&Table<'a, 'i>) -> Option<T>,
) -> Vec<T> {
    let tables = root.tables(key, name, most);
    tables
        .into_iter()
        .filter_map(|table| {
            let item = read(&table);
            table.finish();
            item
        })
        .collect()
}

fn mm(value: f64) -> Millimetres {
    Millimetres::new(value)
}

fn wing(t: Table<'_, '_>, stations: &[Station]) -> Option<Wing> {
    let name = t.text("name").map(|(n, _)| n);
    if name.is_none() && t.value("name").is_none() {
        t.missing("name", "write name = \"...\"");
    }
    if let Some((text, span)) = t.text("name")
        && (text.trim().is_empty() || text.chars().count() > 200 || text.chars().any(char::is_control))
    {
        t.mistakes().note(span, "a wing's name has 1 to 200 characters and no control characters", None);
    }
    if t.value("side").is_none() {
        t.missing("side", "write side = \"left\" or side = \"right\"");
    }
    let side = t.word("side", &[("left", Side::Left), ("right", Side::Right)]);
    let attitude = t.word(
        "attitude",
        &[
            ("chord-level", Attitude::ChordLevel),
            ("leading-edge-down", Attitude::LeadingEdgeDown),
            ("leading-edge-up", Attitude::LeadingEdgeUp),
        ],
    );
    let root = t.quantity("root", Kind::Length).or(stations.first().map(|s| s.span.value()));
    let tip = t.quantity("tip", Kind::Length).or(stations.last().map(|s| s.span.value()));
    if let (Some(root), Some(tip)) = (root, tip)
        && (root >= tip)
        && (t.value("root").is_some() || t.value("tip").is_some())
    {
        t.mistakes().note(
            t.span(),
            format!("the root datum ({root} mm) must be inboard of the tip datum ({tip} mm)"),
            None,
        );
    }
    let material = t.table("material", "[wing.material]").and_then(|m| {
        let expansion = m.number("expansion");
        if m.value("expansion").is_none() {
            m.missing("expansion", "write expansion = 23.0e-6, per kelvin, from the material's data");
        }
        let expansion_u = m.number("expansion_u").unwrap_or(0.0);
        for (key, value) in [("expansion", expansion.unwrap_or(0.0)), ("expansion_u", expansion_u)] {
            if !(0.0..=1e-3).contains(&value)
                && let Some(at) = m.value(key)
            {
                m.wrong(at, key, "per kelvin, between 0 and 0.001");
            }
        }
        m.finish();
        Some(Material { expansion: expansion?, expansion_u })
    });
    let note = t.text("note").map(|(n, _)| n);
    t.finish();
    Some(Wing {
        name: name?,
        side: side?,
        attitude: attitude.unwrap_or(Attitude::ChordLevel),
        root: mm(root?),
        tip: mm(tip?),
        material,
        note,
    })
}

fn stations(root: &Table<'_, '_>, most: usize, names: &mut Names<'_>) -> Vec<Station> {
    list(root, "station", "a [[station]]", most, |t| {
        let name = names.take("station", t.name("name"));
        let span = t.required("span", Kind::Length);
        let chord = t.required("chord", Kind::Length);
        let incidence = t.required("incidence", Kind::Angle);
        if let (Some(value), Some(at)) = (span, t.value("span"))
            && value < 0.0
        {
            t.wrong(at, "span", "zero or more: spans are counted outboard");
        }
        if let (Some(value), Some(at)) = (chord, t.value("chord"))
            && value <= 0.0
        {
            t.wrong(at, "chord", "above zero");
        }
        let fixture = t.quantity("fixture", Kind::Angle).unwrap_or(0.0);
        let height_angle = t.quantity("height_angle", Kind::Angle).unwrap_or(0.0);
        Some(Station {
            name: name?,
            span: mm(span?),
            chord: mm(chord?),
            incidence: Degrees::new(incidence?),
            fixture: Degrees::new(fixture),
            height_angle: Degrees::new(height_angle),
        })
    })
}

fn spar(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Spar> {
    let name = names.take("spar", t.name("name"));
    let aft_root = t.required("aft_root", Kind::Length);
    let aft_tip = t.quantity("aft_tip", Kind::Length).or(aft_root);
    Some(Spar { name: name?, aft_root: mm(aft_root?), aft_tip: mm(aft_tip?) })
}

fn line(t: &Table<'_, '_>, spars: &[Spar]) -> Option<Line> {
    let spar = supports::known_spar(t, spars);
    let direction = t.word("direction", &DIRECTIONS);
    if t.value("direction").is_none() {
        t.missing("direction", "write direction = \"up\" or \"aft\": which way offsets are measured");
    }
    let number = |key: &'static str| {
        let value = t.number(key)?;
        if value <= 0.0
            && let Some(at) = t.value(key)
        {
            t.wrong(at, key, "above zero");
        }
        Some(value)
    };
    let sag = match (number("weight"), number("tension")) {
        (Some(weight), Some(tension)) => Some((weight, tension)),
        (None, None) => None,
        _ => {
            t.missing("weight or tension", "give both, in N per metre and N, or neither");
            None
        }
    };
    Some(Line { spar: spar?, direction: direction?, sag })
}

fn bay(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Bay> {
    let name = names.take("bay", t.name("name"));
    for key in ["a", "b"] {
        if t.value(key).is_none() {
            t.missing(key, "give both sides of the bay, in mm");
        }
    }
    let (a, b) = (t.positive("a", Kind::Length, false), t.positive("b", Kind::Length, false));
    let listed = t.texts("diagonals");
    for (text, span) in &listed {
        t.check_name(text, span.clone());
    }
    let listed: Vec<String> = listed.into_iter().filter_map(|n| names.take("diagonal", Some(n))).collect();
    let Ok(diagonals) = <[String; 2]>::try_from(listed) else {
        t.missing("diagonals", "write diagonals = [\"D1\", \"D2\"], two names");
        return None;
    };
    Some(Bay { name: name?, a: mm(a?), b: mm(b?), diagonals })
}

fn shaft(t: Table<'_, '_>) -> Option<Shaft> {
    let name = t.text("name").map_or_else(|| "shaft".to_owned(), |(n, _)| n);
    if t.value("diameter").is_none() {
        t.missing("diameter", "give the shaft's diameter, in mm");
    }
    let diameter = t.positive("diameter", Kind::Length, false);
    let clearance = t.positive("clearance", Kind::Length, true);
    t.finish();
    Some(Shaft { name, diameter: mm(diameter?), clearance: clearance.map(mm) })
}

fn bush(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Bush> {
    let name = names.take("bush", t.name("name"));
    let span = t.required("span", Kind::Length);
    if t.value("bore").is_none() {
        t.missing("bore", "give the design bore, in mm");
    }
    let bore = t.positive("bore", Kind::Length, false);
    Some(Bush { name: name?, span: mm(span?), bore: mm(bore?) })
}

fn spot(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Spot> {
    let name = names.take("spot check", t.name("name"));
    if t.value("quantity").is_none() {
        t.missing("quantity", "write quantity = \"torque\", \"length\", \"angle\" or \"temperature\"");
    }
    let quantity = t.word("quantity", &QUANTITIES);
    let limits = quantity.and_then(|kind| t.lower_upper(kind));
    let row = match (t.text("row"), t.whole("place")) {
        (Some((row, _)), Some(place)) => Some((row, place)),
        (None, None) => None,
        _ => {
            t.missing("row or place", "a hole of a row has both: row = \"...\" and place = 1");
            None
        }
    };
    // Limits are of no known quantity until the quantity is right; ask for them so that they are not called unknown.
    if quantity.is_none() {
        t.known("lower");
        t.known("upper");
    }
    Some(Spot { name: name?, quantity: quantity?, limits, row })
}

fn instrument(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Instrument> {
    let name = names.take("instrument", t.name("name"));
    if t.value("kind").is_none() {
        t.missing(
            "kind",
            "write kind = \"inclinometer\", \"caliper\", \"tape\", \"torque-wrench\" or \"other\"",
        );
    }
    let kind = t.word(
        "kind",
        &[
            ("inclinometer", InstrumentKind::Inclinometer),
            ("caliper", InstrumentKind::Caliper),
            ("tape", InstrumentKind::Tape),
            ("torque-wrench", InstrumentKind::TorqueWrench),
            ("other", InstrumentKind::Other),
        ],
    );
    let quantity = kind.and_then(InstrumentKind::quantity).unwrap_or(Kind::Length);
    if t.value("resolution").is_none() {
        t.missing("resolution", "give the step of its display");
    }
    let resolution = t.positive("resolution", quantity, false);
    let accuracy = t.positive("accuracy", quantity, true);
    let repeatability = t.positive("repeatability", quantity, true);
    let date = |key: &'static str| {
        let (text, span) = t.text(key)?;
        match text.parse::<Date>() {
            Ok(date) => Some(date),
            Err(why) => {
                t.mistakes().note(span, format!("`{key}`: {why}"), None);
                None
            }
        }
    };
    Some(Instrument {
        name: name?,
        number: t.text("number").map(|(n, _): Name| n),
        kind: kind?,
        resolution: resolution?,
        accuracy,
        repeatability,
        scale: t.number("scale"),
        expansion: t.number("expansion"),
        checked: date("checked"),
        due: date("due"),
    })
}

fn rule(t: Table<'_, '_>) -> Rule {
    let mut rule = Rule::default();
    if let Some(acceptance) =
        t.word("acceptance", &[("guarded", Acceptance::Guarded), ("simple", Acceptance::Simple)])
    {
        rule.acceptance = acceptance;
    }
    if let (Some(level), Some(at)) = (t.number("level"), t.value("level")) {
        match [0.95, 0.975, 0.99].contains(&level) {
            true => rule.level = level,
            false => t.wrong(at, "level", "0.95, 0.975 or 0.99"),
        }
    }
    if let (Some(order), Some(at)) = (t.whole("max_order"), t.value("max_order")) {
        match order {
            1..=3 => rule.max_order = order as usize,
            _ => t.wrong(at, "max_order", "1, 2 or 3"),
        }
    }
    t.finish();
    rule
}

fn tolerances(t: Table<'_, '_>) -> Tolerances {
    let degrees = |key| -> Option<Limits<Degrees>> { Some(t.limits(key, Kind::Angle)?.map(Degrees::new)) };
    let tolerances = Tolerances {
        setting: degrees("setting"),
        washout: degrees("washout"),
        station: degrees("station"),
        neighbour: degrees("neighbour"),
        left_right: degrees("left_right"),
        straightness: t.positive("straightness", Kind::Length, false).map(mm),
        level: degrees("level"),
        cross: degrees("cross"),
        square: degrees("square"),
        spacing: t.limits("spacing", Kind::Length).map(|l| l.map(mm)),
    };
    t.finish();
    tolerances
}

fn stage(t: &Table<'_, '_>, patterns: &Patterns<'_>, names: &mut Names<'_>) -> Option<Stage> {
    let name = names.take("stage", t.name("name"));
    let requires = patterns.expand(t.texts("requires"));
    let disturbs = patterns.expand(t.texts("disturbs"));
    let open = t.texts("open").into_iter().map(|(text, _)| text).collect();
    Some(Stage { name: name?, requires, disturbs, open })
}
