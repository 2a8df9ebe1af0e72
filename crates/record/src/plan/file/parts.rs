//! Reads the plan from its tables, with the smaller parts.

use super::checks::{Names, check_shaft, check_size, check_stations};
use super::mistake::{Mistake, Table};
use super::patterns::Parts;
use super::units::units;
use super::{instruments, judging, rigging, spots, stages, supports, wing};
use crate::plan::{Bay, Bush, ByName, Direction, Line, Plan, Sag, Shaft, Spar};
use quantity::{Kind, Millimetres};

/// The whole plan; `None` if the mistakes leave too little of it.
pub fn plan(root: &Table<'_, '_>) -> Option<Plan> {
    let mut names = Names::new(root.mistakes());
    let aeroplane = root.inside("aeroplane", "[aeroplane]", wing::aeroplane);
    // In an aeroplane's plan, [[wing]] is a list: the wings whose logs are taken up.
    let taken_up =
        aeroplane.is_some() && root.value("wing").is_some_and(|w| w.get_ref().as_array().is_some());
    match (root.value("wing").filter(|_| !taken_up), root.value("aeroplane")) {
        (None, None) => {
            root.missing("[wing]", "write a [wing] table with name and side, or [aeroplane] with a name");
        }
        (Some(_), Some(at)) => {
            root.mistakes().note(at.span(), Mistake::WingAndAeroplane, None);
        }
        _ => {}
    }
    let mut stations = root.list("station", "a [[station]]", |t| wing::station(t, &mut names));
    if aeroplane.is_none() {
        check_stations(root, &stations);
    }
    stations.sort_by(|a, b| a.span.value().total_cmp(&b.span.value()));
    let wing = if taken_up { None } else { root.inside("wing", "[wing]", |t| wing::wing(t, &stations)) };
    let wing = wing.flatten().or(aeroplane.flatten());
    let spars = root.list("spar", "a [[spar]]", |t| spar(t, &mut names));
    let supports = root.list("support", "a [[support]]", |t| supports::support(t, &spars, &mut names));
    let posts = root.list("post", "a [[post]]", |t| supports::post(t, &mut names));
    let lines = root.list("line", "a [[line]]", |t| line(t, &spars, &mut names));
    let bays = root.list("bay", "a [[bay]]", |t| bay(t, &mut names));
    let shaft = root.inside("shaft", "[shaft]", shaft).flatten();
    let mut bushes = root.list("bush", "a [[bush]]", |t| bush(t, &mut names));
    check_shaft(root, shaft.as_ref(), &bushes);
    bushes.sort_by(|a, b| a.span.value().total_cmp(&b.span.value()));
    let spots = root.list("spot", "a [[spot]]", |t| spots::spot(t, &mut names));
    let mut rigging = rigging::rigging(root, &mut names);
    if taken_up {
        rigging.wings = root.list("wing", "a [[wing]]", |t| rigging::wing(t, &mut names));
    }
    let instruments =
        root.list("instrument", "an [[instrument]]", |t| instruments::instrument(t, &mut names));
    let rule = root.inside("rule", "[rule]", judging::rule).unwrap_or_default();
    let tolerances = root.inside("tolerance", "[tolerance]", judging::tolerances).unwrap_or_default();
    let units = root.inside("units", "[units]", units).unwrap_or_default();
    for key in ["stage", "rework", "record_only"] {
        root.known(key);
    }
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
        rigging,
        stages: Vec::new(),
        record_only: Vec::new(),
        reworks: Vec::new(),
        instruments,
        units,
        shown_in: units,
        remarks: Vec::new(),
        station_places: ByName::default(),
        spot_places: ByName::default(),
    };
    check_size(root, &plan)?;
    rigging::check_differences(root, &plan);
    rigging::check_wings(root, &plan);
    let whole = [
        ("station", plan.stations.len()),
        ("spar", plan.spars.len()),
        ("post", plan.posts.len()),
        ("bay", plan.bays.len()),
        ("bush", plan.bushes.len()),
        ("spot", plan.spots.len()),
        ("angle", plan.rigging.angles.len()),
        ("control", plan.rigging.controls.len()),
        ("cable", plan.rigging.cables.len()),
        ("bolt", plan.rigging.bolts.len()),
        ("distance", plan.rigging.distances.len()),
    ]
    .into_iter()
    .all(|(key, read)| root.count(key) == read);
    let parts = if whole { Parts::Whole } else { Parts::Lacking };
    stages::read_into(&mut plan, root, parts, &mut names);
    Some(plan)
}

fn spar(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Spar> {
    let name = names.take("spar", t.name("name"));
    let aft_root = t.required_length("aft_root");
    let aft_tip = t.length("aft_tip").or(aft_root);
    Some(Spar { name: name?, aft_root: aft_root?, aft_tip: aft_tip? })
}

fn line(t: &Table<'_, '_>, spars: &[Spar], names: &mut Names<'_>) -> Option<Line> {
    let spar = supports::known_spar(t, spars).and_then(|spar| names.take("line along a spar", Some(spar)));
    let direction = t.required_word("direction", &Direction::WORDS);
    let above_zero = |key| (key, t.number_above_zero(key));
    let right = "give both the weight in N per metre and the tension in N, or neither";
    let sag = t.both(above_zero("weight"), above_zero("tension"), right);
    Some(Line {
        spar: spar?,
        direction: direction?,
        sag: sag.map(|(weight, tension)| Sag { weight, tension }),
    })
}

fn bay(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Bay> {
    let name = names.take("bay", t.name("name"));
    for key in ["a", "b"] {
        t.wants(key, "give both sides of the bay, in mm");
    }
    let (a, b) = (t.positive_length("a"), t.positive_length("b"));
    let diagonals: Vec<String> = t
        .texts("diagonals")
        .into_iter()
        .filter_map(|name| names.take("diagonal", t.checked_name(name)))
        .collect();
    let Ok(diagonals) = <[String; 2]>::try_from(diagonals) else {
        t.missing("diagonals", "write diagonals = [\"D1\", \"D2\"], two names");
        return None;
    };
    Some(Bay { name: name?, a: a?, b: b?, diagonals })
}

fn shaft(t: &Table<'_, '_>) -> Option<Shaft> {
    let name = t.text("name").map_or_else(|| "shaft".to_owned(), |name| name.text);
    let diameter = t.wants("diameter", "give the shaft's diameter, in mm").positive_length("diameter");
    let clearance = t.zero_or_more("clearance", Kind::Length).map(Millimetres::new);
    Some(Shaft { name, diameter: diameter?, clearance })
}

fn bush(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Bush> {
    let name = names.take("bush", t.name("name"));
    let span = t.required_length("span");
    let bore = t.wants("bore", "give the design bore, in mm").positive_length("bore");
    Some(Bush { name: name?, span: span?, bore: bore? })
}
