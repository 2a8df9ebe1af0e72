//! Assessments of invented wings, made from plans and readings by the program's own rules, and spoilt in known ways.

mod compare;
#[path = "../../../../assess/tests/assess/whole/mod.rs"]
mod whole;

pub use compare::left_and_right;
pub use whole::{Build, Way};

use assess::{Assessment, Chain, assess};
use numerics::rng::Rng;
use record::{Plan, What};
use sheet::{Form, Paper, Stamp};

/// A stamp with made-up fingerprints.
pub fn stamp(paper: Paper) -> Stamp {
    Stamp {
        title: "Inspection sheet".to_owned(),
        plan_sha256: "3f9ac1d07be24586a1f0c9d8e7b6a59483726150f1e2d3c4b5a6978877665544".to_owned(),
        head: "b8175e02c4d96f3a7b1c8d0e5f2a4936d7c8b9a0e1f2a3b4c5d6e7f8091a2b3c".to_owned(),
        entries: 214,
        made_at: "2031-04-05T16:07:08Z".to_owned(),
        program: "jigtrue 0.1.0".to_owned(),
        paper,
        form: Form::Full,
    }
}

/// One thing of every kind, well measured, nothing left open.
pub fn clear() -> Assessment {
    let build = Build::clear(Way::Angles, 4);
    assess(&build.plan, &build.entries, &Chain::Whole)
}

/// The same with a bent rib, an unmeasured spar, a disturbed reading, and something left open.
pub fn hold() -> Assessment {
    let mut build = Build::clear(Way::Angles, 4);
    for entry in &mut build.entries {
        if let What::Reading(r) = &mut entry.what
            && r.point.to_string() == "incidence@S5"
        {
            r.value += if r.facing == Some(record::Facing::Aft) { -0.9 } else { 0.9 };
        }
    }
    build
        .entries
        .retain(|e| !matches!(&e.what, What::Reading(r) if r.point.to_string().starts_with("offset@rear")));
    build.entries.iter_mut().zip(1..).for_each(|(e, seq)| e.seq = seq);
    build.happens(What::Rework(record::Rework {
        points: vec!["bore@B2".parse().unwrap()],
        what: "reamed".to_owned(),
    }));
    build.happens(What::OpenItem(record::OpenItem {
        item: "nutplates at S7 not riveted".to_owned(),
        action: record::OpenAction::Opened,
        reason: None,
    }));
    assess(&build.plan, &build.entries, &Chain::Whole)
}

/// A wing with this many stations, named by `name`; `causes` of them are far enough off for a cause each.
pub fn wing(stations: usize, name: impl Fn(usize) -> String, causes: usize) -> Assessment {
    let wing = if stations == 12 { "wing ".repeat(78) } else { "Tarnmere".to_owned() };
    let mut text = format!(
        "format = 1\n[wing]\nname = \"{}\"\nside = \"right\"\nattitude = \"chord-level\"\nserial = \"07\"\n\
         [tolerance]\nsetting = 0.5\nwashout = 0.3\nstation = 0.3\n\
         [[instrument]]\nname = \"level\"\nkind = \"inclinometer\"\nresolution = 0.02\naccuracy = 0.02\n\
         repeatability = 0.01\nchecked = \"2030-01-01\"\ndue = \"2031-01-01\"\n\
         [[instrument]]\nname = \"gauge\"\nkind = \"caliper\"\nresolution = 0.02\naccuracy = 0.02\n\
         repeatability = 0.01\nchecked = \"2030-01-01\"\ndue = \"2031-01-01\"\n",
        wing.trim_end()
    );
    for i in 0..stations {
        let (span, incidence) = (200.0 * i as f64, 2.0 - 0.02 * i as f64);
        text += &format!(
            "[[station]]\nname = \"{}\"\nspan = {span:?}\nchord = 1400.0\nincidence = {incidence:.2}\n",
            name(i)
        );
    }
    for i in 0..causes {
        text += &format!(
            "[[spot]]\nname = \"gap {} of the lower skin\"\nquantity = \"length\"\nlower = 0.0\nupper = {}\n",
            i + 1,
            0.5 + 0.01 * i as f64
        );
    }
    let spots = if causes > 0 { ", \"spot@*\"" } else { "" };
    text += &format!("[[stage]]\nname = \"close\"\nrequires = [\"incidence@*\"{spots}]\n");
    let plan = Plan::parse(&text).unwrap();
    let mut build = Build { plan, entries: Vec::new(), round: 1 };
    build.happens(What::Started { plan: text, program: "test".to_owned() });
    build.stage("close");
    build.measure("close", &mut Rng::new(9));
    for entry in &mut build.entries {
        if let What::Reading(r) = &mut entry.what
            && r.point.kind() == record::PointKind::Spot
        {
            r.value += 3.0;
            r.text = r.value.to_string();
        }
    }
    assess(&build.plan, &build.entries, &Chain::Whole)
}
