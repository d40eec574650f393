fn main() {
    let arg = std::env::args().nth(1).unwrap();
    let (text, dir) = if arg.ends_with(".toml") {
        (
            std::fs::read_to_string(&arg).unwrap(),
            std::path::PathBuf::from(&arg).parent().unwrap().to_owned(),
        )
    } else {
        (boat::template(&arg, "Demo").unwrap(), ".".into())
    };
    let (boat, warns) = boat::load(&text, "boat.toml").unwrap();
    for w in warns {
        println!("warn {}", w.message);
    }
    let t = std::time::Instant::now();
    let mut form = match &boat.hull.source {
        boat::HullSource::Starter(s) => form::Form::from_mesh(form::starter::build(s).unwrap()),
        boat::HullSource::Mesh(files) => {
            let b: Vec<(String, Vec<u8>)> = files
                .iter()
                .map(|f| (f.path.clone(), std::fs::read(dir.join(&f.path)).unwrap()))
                .collect();
            let r: Vec<(&str, &[u8])> = b.iter().map(|(a, b)| (a.as_str(), b.as_slice())).collect();
            form::assemble(&r, files).unwrap()
        }
    };
    form.surfaces.retain(|s| s.stations.len() != 14);
    println!(
        "form {:?} kind {:?} tris {} cols {}",
        t.elapsed(),
        form.kind,
        form.envelope.triangles.len(),
        form.columns.x_m.len()
    );
    for n in &form.notices {
        println!("notice {} {}", n.serious, n.text);
    }
    println!("{:?}", form.outline);
    for s in &form.surfaces {
        println!(
            "{} te {:?} beam {:.1} angle {:.2} dead {:.1} step {} n {} to x {:.3}",
            s.name,
            s.trailing_edge_m,
            s.beam_m.value * 1e3,
            s.angle_rad.value.to_degrees(),
            s.deadrise_rad.value.to_degrees(),
            s.step,
            s.stations.len(),
            s.stations.last().unwrap().x_m
        );
    }
    let mass = craft::mass::mass_properties(&boat, &form).unwrap();
    println!("mass {:.3} cg {:?}", mass.mass_kg, mass.cg_m);
    let t = std::time::Instant::now();
    let craft = craft::Craft::new(&boat, &form, &mass, &craft::Factors::default()).unwrap();
    println!("rest {:?} in {:?}", craft.rest_attitude(), t.elapsed());
    let t = std::time::Instant::now();
    let curve = craft.speed_curve(60);
    println!(
        "curve {:?} missing {:?} others {} pitch speed {:.1}",
        t.elapsed(),
        curve.missing_m_s,
        curve.others.len(),
        craft.pitch_speed_m_s()
    );
    for s in curve.running.iter().step_by(3) {
        show(s);
    }
    println!("others");
    for s in &curve.others {
        show(s);
    }
    println!("hump {:?}", curve.hump);
    if let Some(t) = &curve.top {
        show(t);
        for f in &t.forces {
            println!(
                "   {:18} {:7.3?} M {:7.4?}",
                f.name,
                f.force_n.as_slice(),
                f.moment_n_m.as_slice()
            );
        }
        println!("{:?}", t.drives);
        println!("{:?}", t.wetted);
        println!("{:?}", t.notes);
    }
}
fn show(s: &craft::RunningState) {
    println!(
        "U {:5.2} ({:5.1} km/h) trim {:5.2} heel {:5.2} rise {:6.1} need {:5.2} avail {:5.2} thr {:.2} dyn {:.2} imm {:.2} slip {:.2} A {:.1} rpm {:.0} st {} wet {:?}",
        s.speed_m_s,
        s.speed_m_s * 3.6,
        s.attitude.trim_rad.to_degrees(),
        s.attitude.heel_rad.to_degrees(),
        s.attitude.rise_m * 1e3,
        s.thrust_needed_n,
        s.thrust_available_n,
        s.throttle,
        s.dynamic_share(),
        s.drives[0].immersion,
        s.drives[0].slip,
        s.drives[0].current_a,
        s.drives[0].shaft_rad_s * 9.5493,
        s.statically_stable,
        s.wetted
            .iter()
            .map(|w| (w.keel_length_m * 1e3).round())
            .collect::<Vec<_>>()
    );
}
