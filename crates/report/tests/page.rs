//! The whole page: well-formed, harmless, reachable without sight, the same every time.

use advice::Finding;
use quick_xml::events::Event;
use quick_xml::reader::Reader;
use std::collections::BTreeSet;
use std::sync::LazyLock;
use study::{Effort, Study};

const QUICK: Effort = Effort {
    points: 10,
    draws: 4,
    further: 0,
    seed: 1,
    trials: false,
    deep: true,
};

fn study(starter: &str, name: &str, change: impl Fn(String) -> String) -> (Study, Vec<Finding>) {
    let text = change(boat::template(starter, name).unwrap());
    let (boat, _) = boat::load(&text, "boat.toml").unwrap();
    let boat::HullSource::Starter(hull) = &boat.hull.source else {
        panic!("a template is a starter hull");
    };
    let form = form::Form::from_mesh(form::starter::build(hull).unwrap());
    let study = study::study(boat, form, QUICK, &|_| {}).unwrap();
    let findings = advice::findings(&study);
    (study, findings)
}

fn page(starter: &str, name: &str, change: impl Fn(String) -> String) -> String {
    let (study, findings) = study(starter, name, change);
    report::html(&report::Subject::of(&study, &findings))
}

static THREE_POINT: LazyLock<String> = LazyLock::new(|| page("three-point", "Tern", |t| t));

/// An element's name and attributes.
type Tag = (String, Vec<(String, String)>);

/// Start tags with their attributes and all text, from an XML reader that accepts no slips.
fn parsed(page: &str) -> (Vec<Tag>, String) {
    let mut reader = Reader::from_str(page);
    reader.config_mut().check_end_names = true;
    let (mut tags, mut text, mut depth) = (Vec::new(), String::new(), 0i32);
    loop {
        match reader.read_event().expect("the page is well-formed") {
            Event::Start(tag) => {
                depth += 1;
                tags.push(attributes(&tag));
            }
            Event::Empty(tag) => tags.push(attributes(&tag)),
            Event::End(_) => depth -= 1,
            Event::Text(words) => text.push_str(words.as_ref()),
            Event::Eof => break,
            _ => {}
        }
    }
    assert_eq!(depth, 0, "an element is left open");
    (tags, text)
}

fn attributes(tag: &quick_xml::events::BytesStart) -> Tag {
    let all = tag
        .attributes()
        .map(|a| a.expect("attributes are quoted and none is given twice"))
        .map(|a| (a.key.as_ref().to_owned(), a.value.to_string()))
        .collect();
    (tag.name().as_ref().to_owned(), all)
}

#[test]
fn every_starter_gives_a_well_formed_page() {
    for starter in boat::STARTER_TYPES {
        let page = match *starter {
            "three-point" => THREE_POINT.clone(),
            other => page(other, "Tern", |t| t),
        };
        let (tags, _) = parsed(&page);
        for id in ["findings", "drawings", "masses", "rest", "running", "known"] {
            let has = tags
                .iter()
                .any(|(_, a)| a.contains(&("id".to_owned(), id.to_owned())));
            assert!(has, "{starter} has no {id}");
        }
        assert!(!page.contains("NaN") && !page.contains("inf "), "{starter}");
    }
}

#[test]
fn nothing_is_fetched_and_nothing_runs() {
    let (tags, _) = parsed(&THREE_POINT);
    for (name, attributes) in &tags {
        let barred = ["script", "link", "img", "iframe", "object", "form", "base"];
        assert!(!barred.contains(&name.as_str()), "{name}");
        for (key, value) in attributes {
            assert!(!key.starts_with("on"), "{key}");
            assert!(key == "xmlns" || !value.contains("//"), "{key}={value}");
        }
    }
    assert!(!THREE_POINT.contains("@import") && !THREE_POINT.contains("url(http"));
}

#[test]
fn a_boat_file_cannot_put_markup_on_the_page() {
    let evil = r#"</title><script>alert(1)</script><b onmouseover="x">&"#;
    let page = page("three-point", evil, |text| {
        // Also in a part's and an opening's name; a TOML literal string takes both quotes' absence.
        text.replace("\"Receiver\"", "'<img src=x onerror=alert(2)>'")
            .replace("\"hatch rim\"", "'</text></svg><script>alert(3)</script>'")
            .replace("\"water outlet\"", "'<!-- & ]]>'")
    });
    let (tags, _) = parsed(&page);
    assert!(
        tags.iter()
            .all(|(name, _)| name != "script" && name != "img" && name != "b")
    );
    assert!(!page.contains("<script") && !page.contains("<img") && !page.contains("<!--"));
    assert!(
        page.contains("&lt;img src=x onerror=alert(2)&gt;"),
        "the name is still shown"
    );
}

#[test]
fn it_can_be_heard_and_walked_through() {
    let (tags, _) = parsed(&THREE_POINT);
    let html = tags.iter().find(|(name, _)| name == "html").unwrap();
    assert!(html.1.contains(&("lang".to_owned(), "en".to_owned())));

    let levels: Vec<u8> = tags
        .iter()
        .filter_map(|(name, _)| match name.as_bytes() {
            [b'h', level @ b'1'..=b'6'] => Some(level - b'0'),
            _ => None,
        })
        .collect();
    assert_eq!(levels.iter().filter(|l| **l == 1).count(), 1);
    assert_eq!(levels[0], 1);
    assert!(
        levels.windows(2).all(|w| w[1] <= w[0] + 1),
        "a level is skipped: {levels:?}"
    );

    let mut ids = BTreeSet::new();
    for (_, attributes) in &tags {
        for (_, id) in attributes.iter().filter(|(key, _)| key == "id") {
            assert!(ids.insert(id.clone()), "id {id} twice");
        }
    }
    let pictures: Vec<_> = tags
        .iter()
        .filter(|(name, a)| name == "svg" && a.iter().any(|(key, _)| key == "role"))
        .collect();
    assert!(pictures.len() >= 4);
    for (_, attributes) in pictures {
        let (_, by) = attributes
            .iter()
            .find(|(key, _)| key == "aria-labelledby")
            .unwrap();
        assert!(
            by.split(' ').all(|id| ids.contains(id)),
            "{by} names nothing"
        );
    }
}

#[test]
fn the_same_boat_gives_the_same_bytes() {
    assert_eq!(page("three-point", "Tern", |t| t), *THREE_POINT);
}

#[test]
fn every_finding_part_and_assumption_is_on_the_page() {
    let (study, findings) = study("vee", "Tern", |t| t);
    let page = report::html(&report::Subject::of(&study, &findings));
    let (_, text) = parsed(&page);
    // What quick-xml leaves escaped.
    let plain = |s: &str| {
        s.replace('&', "&amp;")
            .replace('\'', "&#39;")
            .replace('"', "&quot;")
    };
    assert!(!findings.is_empty());
    for finding in &findings {
        assert!(
            page.contains(&plain(&finding.sentence)),
            "{}",
            finding.sentence
        );
        assert!(page.contains(finding.standing.word()));
    }
    for item in &study.mass.items {
        assert!(page.contains(&plain(&item.name)), "{}", item.name);
    }
    let mut boat = study.boat.clone();
    boat.visit_measures(&mut |path, measure| {
        if measure.is_assumed() {
            assert!(page.contains(&plain(path)), "{path}");
        }
    });
    let order = [
        "drawings", "findings", "masses", "rest", "running", "power", "holds", "known",
    ];
    let at: Vec<usize> = order
        .iter()
        .map(|id| page.find(&format!("<section id=\"{id}\"")).unwrap())
        .collect();
    assert!(at.windows(2).all(|w| w[0] < w[1]));
    assert!(text.contains("Caution.") && text.contains("Lithium"));
}

/// The margin along the length stands under the side view, to one scale: each joint is at one place in both.
#[test]
fn where_it_is_weakest_is_drawn_and_told() {
    let (study, findings) = study("vee", "Tern", |t| t);
    let page = report::html(&report::Subject::of(&study, &findings));
    let running = study.running.as_ref().unwrap();
    let strength = running.strength.as_ref().unwrap();
    let section = page.split("<section id=\"holds\"").nth(1).unwrap();
    let section = section.split("</section>").next().unwrap();
    let worst = &strength.margins[0];
    assert!(section.contains(&format!("Weakest is the {}, {}", worst.place, worst.load)));
    for crash in &strength.crashes {
        assert!(section.contains(&crash.breaks.replace('\'', "&#39;")));
    }
    // What presses on it in the worst load: an arrow a place, each with its force.
    let pushes = strength.worst_acting();
    assert!(!pushes.is_empty(), "{} bends the hull", worst.load);
    let picture = section.split("id=\"holds-chart\"").next().unwrap();
    assert_eq!(
        picture.matches("class=\"force-name\"").count(),
        pushes.len()
    );
    assert!(section.contains(&format!("Arrows press on it there: {}", worst.load)));
    let (tags, _) = parsed(&page);
    let of = |class: &str, key: &str| -> Vec<f64> {
        let has = |a: &[(String, String)]| a.contains(&("class".to_owned(), class.to_owned()));
        let all = tags.iter().filter(|(_, a)| has(a));
        let value = |a: &[(String, String)]| {
            let (_, text) = a.iter().find(|(k, _)| k == key)?;
            text.parse().ok()
        };
        all.filter_map(|(_, a)| value(a)).collect()
    };
    let cuts = of("cut", "x1");
    assert_eq!(cuts.len(), strength.layout.joints.len());
    assert!(!cuts.is_empty(), "a hull longer than the bed has joints");
    // The chart's own axis: its area begins 58 from the left and ends 14 from the right of 760.
    let (low, high) = study.form.envelope.bounds().unwrap();
    for (x, joint) in cuts.iter().zip(&strength.layout.joints) {
        let wanted = 58.0 + (joint.x_m - low.x) / (high.x - low.x) * (760.0 - 58.0 - 14.0);
        assert!((x - wanted).abs() < 0.02, "{x} and {wanted}");
    }
}

#[test]
fn heat_and_water_of_every_drive_are_drawn() {
    const LOOP: &str =
        "[drive.cooling]\noutlet = [\"100 mm\", \"20 mm\", \"40 mm\"]\n\n[drive.motor]";
    let (study, findings) = study("vee", "Tern", |t| t.replacen("[drive.motor]", LOOP, 1));
    let page = report::html(&report::Subject::of(&study, &findings));
    parsed(&page);
    let under = study.running.as_ref().expect("it floats");
    assert_eq!(under.flat_out.len(), study.boat.drives.len());
    let run = &under.flat_out[0].run;
    for id in ["flat-out-1", "water-path-1"] {
        assert_eq!(
            page.matches(&format!("aria-labelledby=\"{id}-title"))
                .count(),
            1
        );
    }
    // Curves of the run and of the blocked pickup: three single ones and twice five temperatures.
    let from = page.find("flat-out-1-title").expect("the chart");
    let chart = &page[from..from + page[from..].find("</svg>").expect("its end")];
    assert_eq!(chart.matches("class=\"stave\"").count(), 5);
    assert!(chart.contains("pickup blocked") && chart.contains("stopped"));
    // The water comes in as cold as the pond and leaves warmer.
    let (water, out) = (&page[page.find("water-path-1-desc").expect("it")..], run);
    assert!(water.contains("outlet") && out.hottest_k[0] > study.boat.air.temperature_c.value);
}

#[test]
fn a_boat_that_sinks_gets_a_page_too() {
    let page = page("three-point", "Brick", |text| {
        text.replace("mass = \"175 g\"", "mass = \"4000 g\"")
    });
    let (_, text) = parsed(&page);
    assert!(text.contains("no: it sinks"), "the headline says so");
    assert!(!page.contains("id=\"running\""));
}

/// Relative luminance and contrast as WCAG 2.2 defines them.
fn contrast(a: &str, b: &str) -> f64 {
    let luminance = |colour: &str| {
        let part = |i: usize| {
            let c = f64::from(u8::from_str_radix(&colour[i..i + 2], 16).unwrap()) / 255.0;
            if c <= 0.04045 {
                c / 12.92
            } else {
                ((c + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
    };
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn words_stand_out_from_what_is_behind_them() {
    // WCAG's own end points.
    assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
    let css = include_str!("../src/style.css");
    let colour = |key: &str| {
        let from = css.find(key).unwrap_or_else(|| panic!("no {key}")) + key.len();
        let at = from + css[from..].find('#').unwrap();
        &css[at..at + 7]
    };
    let words = [
        "--ink:",
        "--soft:",
        "--line:",
        ".force-name {",
        ".stop {",
        ".watch {",
        ".unsure {",
        ".good {",
    ];
    let behind = [
        "--paper:",
        "--sheet:",
        "border-left-width: 8px; background:",
        ".hull .area {",
    ];
    for word in words {
        for ground in behind {
            let ratio = contrast(colour(word), colour(ground));
            assert!(ratio >= 4.5, "{word} on {ground}: {ratio:.2}");
        }
    }
}

/// Measured rows, factors and causes, as text a builder wrote could spoil them.
#[test]
fn an_outing_is_shown_and_stays_well_formed() {
    use evidence::Measured;
    use evidence::outing::QuantityKind;
    use learn::agree::Agreement;
    use learn::beside::Beside;
    use learn::model::Uncertain;
    use learn::observe::{Observed, Place};
    use learn::reconcile::{Reconciled, Row, Shift};
    let (study, findings) = study("three-point", "Tern", |t| t);
    let row = |kind, value, sigma| Row {
        observed: Observed {
            kind,
            measured: Measured::new(value, sigma),
            place: Place::Throttle(1.0),
            from: "<b>log & track</b>".to_owned(),
            drive: 0,
            assumed: None,
            both_ways: false,
            after_s: None,
        },
        predicted: Measured::new(20.0, 2.0),
        after: Measured::new(19.0, 0.5),
        weight: 1.0,
    };
    let lever = study::lever::Lever::named("propeller thrust").unwrap();
    let found = Reconciled {
        rows: vec![
            row(QuantityKind::Speed, 19.0, 0.4),
            row(QuantityKind::Current, 200.0, 1.0),
        ],
        passed: Vec::new(),
        beside: vec![Beside {
            kind: QuantityKind::TurnRadius,
            measured: Measured::new(7.0, 0.5),
            from: "<b>log & track</b>".to_owned(),
            expected: Some((5.0, f64::INFINITY)),
            agree: Some(true),
            says: "the tightest that holds is 5.0 m".to_owned(),
        }],
        speed: Agreement::of(Vec::new()),
        turns: Agreement::of(Vec::new()),
        shifts: vec![Shift {
            what: Uncertain::Lever(lever),
            before: Measured::new(1.0, 0.1),
            after: Measured::new(0.9, 0.04),
        }],
        pairs: Vec::new(),
        correlation: nalgebra::DMatrix::identity(1, 1),
    };
    let case = learn::why::Case {
        study: &study,
        findings: &findings,
        outing: None,
        found: Some(&found),
    };
    let explained = learn::why::explain("it blows over", &case).unwrap();
    let outings = ["2026-05-17".to_owned()];
    let subject = report::Subject::of(&study, &findings).with_water(report::Water {
        outings: &outings,
        found: Some(&found),
        explained: &explained,
    });
    let page = report::html(&subject);
    let (tags, text) = parsed(&page);
    let ids: Vec<&str> = tags
        .iter()
        .flat_map(|(_, a)| a.iter())
        .filter(|(k, _)| k == "id")
        .map(|(_, v)| v.as_str())
        .collect();
    for want in ["water", "measured-bars-title", "shift-bars-title"] {
        assert!(ids.contains(&want), "{want}");
    }
    assert!(page.contains("&lt;b&gt;log &amp; track") && !page.contains("<b>log"));
    assert!(text.contains("the balance point is too far aft") && text.contains("propeller thrust"));
    // Without an outing the section is not there at all.
    assert!(!THREE_POINT.contains("id=\"water\""));
}
