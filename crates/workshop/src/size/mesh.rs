//! A builder's own mesh: kept as it is, fitted out, and judged for the load.

use advice::{Number, give_first};
use boat::{Axis, Kind, MeshFile, RunningOverride, Step};
use form::Form;
use form::read::check_size;
use serde::{Deserialize, Serialize};
use std::path::Path;
use study::Quantity;
use study::hull_type::HullType;
use study::size::{Found, Hull, Shape, Tried, Wish, best, write};
use utoipa::ToSchema;

use super::kept::SIZED;
use super::told::{self, FittedMesh, SizeAnswer, Studied};
use super::{FEW, SizeAsk, ask_ways, hull_named, look};
use crate::bench::Bench;
use crate::beneath::{is_reserved, read_within};
use crate::fault::{Fault, shown};
use crate::made::boat_folder;

/// How a mesh is to be read where its file does not tell, or is guessed wrong.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct ReadAs {
    /// `mm`, `cm`, `m` or `in`; by its size unless given.
    pub unit: Option<String>,
    /// Axis of the file that points to the bow, `+x`; by its shape unless given.
    pub forward: Option<String>,
    /// Axis of the file that points up; by its shape unless given.
    pub up: Option<String>,
}

impl ReadAs {
    fn declared(&self, path: &str) -> Result<MeshFile, Fault> {
        let unit = |word: &String| match word.as_str() {
            "mm" => Ok(1e-3),
            "cm" => Ok(1e-2),
            "m" => Ok(1.0),
            "in" => Ok(0.0254),
            other => Err(Fault::new(
                format!("{other} is no unit of a mesh"),
                "there are: mm, cm, m, in",
            )),
        };
        let axis = |word: &String| {
            let none = || format!("{word} is no axis of a mesh");
            Axis::of_word(word)
                .ok_or_else(|| Fault::new(none(), "there are: +x, -x, +y, -y, +z, -z"))
        };
        Ok(MeshFile {
            path: path.to_owned(),
            unit_m: self.unit.as_ref().map(unit).transpose()?,
            forward: self.forward.as_ref().map(axis).transpose()?,
            up: self.up.as_ref().map(axis).transpose()?,
        })
    }

    /// A boat file that says so too.
    ///
    /// # Errors
    /// [`Fault`] for a text that cannot be edited.
    pub fn written(&self, text: String) -> Result<String, Fault> {
        let keys = [
            ("unit", &self.unit),
            ("forward", &self.forward),
            ("up", &self.up),
        ];
        let given = keys
            .into_iter()
            .filter_map(|(key, word)| Some((key, word.as_ref()?)));
        let mut text = text;
        for (key, word) in given {
            let at = [Step::Key("hull"), Step::Key(key)];
            text = boat::edit(&text, &at, word.as_str())
                .map_err(|e| Fault::new(e.to_string(), "nothing was made"))?;
        }
        Ok(text)
    }
}

/// A mesh file and the hull in it.
pub struct OwnMesh {
    /// Its own name, without the way to it.
    pub file: String,
    /// As it is.
    pub bytes: Vec<u8>,
    /// The hull.
    pub form: Form,
    /// Axes of the file that point to the bow and up.
    pub axes: [Axis; 2],
}

const HINT: &str = "name an STL, 3MF or OBJ file of the hull";

/// Reads a mesh from anywhere.
///
/// # Errors
/// [`Fault`] when it cannot be read or encloses nothing.
pub fn read(path: &Path, read_as: &ReadAs) -> Result<OwnMesh, Fault> {
    let name = path.file_name().and_then(|n| n.to_str());
    let file = name
        .filter(|n| !is_reserved(n))
        .ok_or_else(|| Fault::new(format!("{} is no name for a mesh", shown(path)), HINT))?
        .to_owned();
    let bytes = read_within(path, |size| {
        check_size(&file, size).map_err(|e| Fault::new(e.to_string(), HINT))
    })?;
    of_bytes(file, bytes, read_as)
}

/// The same of a file's name and what is in it.
///
/// # Errors
/// [`Fault`] when it cannot be read or encloses nothing.
pub fn of_bytes(file: String, bytes: Vec<u8>, read_as: &ReadAs) -> Result<OwnMesh, Fault> {
    let declared = read_as.declared(&file)?;
    let (form, axes) = form::assemble_placed(&[(file.as_str(), bytes.as_slice())], &[declared])
        .map_err(|e| Fault::new(e.to_string(), HINT))?;
    Ok(OwnMesh {
        file,
        bytes,
        form,
        axes,
    })
}

/// As given, else as the shape tells it.
///
/// # Errors
/// [`Fault`] for a type there is not, and for a shape that is none of them.
pub fn type_of(form: &Form, given: Option<&str>) -> Result<HullType, Fault> {
    if let Some(given) = given {
        return hull_named(given);
    }
    match HullType::seen(form) {
        HullType::Other => Err(Fault::new(
            "which type of hull it is cannot be told from the mesh",
            format!(
                "give --hull with one of: {}",
                boat::STARTER_TYPES.join(", ")
            ),
        )),
        known => Ok(known),
    }
}

/// The mesh as a hull to be fitted out.
///
/// # Errors
/// [`Fault`] when its shell cannot be weighed.
pub fn hull_of(form: &Form, hull: HullType, printed: bool) -> Result<Hull, Fault> {
    Hull::of(form.clone(), hull, printed).ok_or_else(|| {
        Fault::new(
            "the mesh's shell cannot be weighed",
            "export it as a closed hull, in millimetres",
        )
    })
}

/// What was found in the file that nobody said.
pub fn guessed(form: &Form, hull: HullType, given: bool) -> Vec<String> {
    let outline = &form.outline;
    let mm = |m| Number::exact(Kind::Length, m).plain();
    let mut all = vec![format!(
        "{} long and {} wide",
        mm(outline.length_m),
        mm(outline.beam_m)
    )];
    let how = if given {
        "as you said"
    } else {
        "by its running surfaces"
    };
    all.push(format!("{} {how}", hull.name()));
    all.extend(form.notices.iter().map(|n| n.text.clone()));
    all
}

/// Scales tried, over the mesh as it is.
const SCALES: [f64; 9] = [0.75, 0.82, 0.9, 1.0, 1.1, 1.2, 1.32, 1.45, 1.6];
/// Pad widths tried, over those of the mesh.
const PADS: [f64; 6] = [0.7, 0.85, 1.0, 1.2, 1.45, 1.7];

/// The mesh kept, the drive placed on it, and by how much the hull would have to change.
pub fn fit(
    ask: &SizeAsk,
    file: &Path,
    name: &str,
    wish: Wish,
    bench: &Bench,
) -> Result<SizeAnswer, Fault> {
    bench.step("reading the mesh")?;
    let own = read(file, &ReadAs::default())?;
    let hull = type_of(&own.form, ask.hull.as_deref())?;
    let shape = Shape::Mesh(&own.file);
    bench.step("trying scales, propellers and motors")?;
    let hulls: Vec<Hull> = SCALES
        .iter()
        .filter_map(|s| Hull::of(scaled(&own.form, *s), hull, true))
        .collect();
    let own_m = hull_of(&own.form, hull, true)?.length_m;
    let found = look(bench, |going| best(&hulls, wish, shape, Some(own_m), going));
    let none = || match bench.watch().wanted() {
        false => Fault::Stopped,
        true => Fault::new(
            "at no scale does this mesh float and run with that load",
            "see what was found in it with `skimwright new NAME --mesh FILE` and `skimwright hull NAME`",
        ),
    };
    let mut found = found.ok_or_else(none)?;
    let is_own = |t: &Tried| (t.hull.length_m / own_m - 1.0).abs() < 1e-3;
    // A mesh that sinks at its own scale has no row: the nearest that floats stands for the drive's size.
    let near = |t: &Tried| (t.hull.length_m / own_m).ln().abs();
    let as_is = found.lengths.iter().position(is_own);
    let chosen = match as_is {
        Some(index) => index,
        None => {
            let all = found.lengths.iter().enumerate();
            let nearest = all.min_by(|a, b| near(a.1).total_cmp(&near(b.1)));
            nearest.map(|n| n.0).ok_or_else(none)?
        }
    };
    let Some(as_is) = as_is else {
        let fits = &found.lengths[chosen];
        let scale = fits.hull.length_m / own_m;
        return Err(Fault::new(
            format!(
                "this mesh sinks with {}: it would have to be {:.0} % of its size, {} long",
                boat::show(Kind::Mass, wish.carry_kg),
                100.0 * scale,
                Number::exact(Kind::Length, fits.hull.length_m).plain()
            ),
            "scale it in CAD, or carry less; nothing was written",
        ));
    };
    let asked: Vec<Studied> = ask_ways(&mut found, as_is, shape, FEW, bench)
        .1
        .into_iter()
        .collect();
    let more_cells = super::more_cells(&found, as_is, shape, bench);
    let fitted_mesh = FittedMesh {
        guessed: guessed(&own.form, hull, ask.hull.is_some()),
        ..change(&found, as_is, own_m)
    };
    let text = write(name, shape, &found.lengths[as_is].fitted, true);
    let (boat, _) = boat::load(&text, &shown(&ask.dir.join("boat.toml")))?;
    let sized = told::kept(ask, &found, as_is, &asked, None).bytes()?;
    boat_folder(
        &ask.dir,
        &[
            ("boat.toml", text.as_bytes()),
            (&own.file, &own.bytes),
            (SIZED, &sized),
        ],
    )?;
    let verdict = ask.verdict(bench)?;
    let answer = told::answer(
        ask,
        name,
        &found,
        as_is,
        &asked,
        told::More {
            instead_of_m: None,
            give_first: give_first(&boat),
            verdict,
            more_cells,
            fitted: Some(fitted_mesh),
        },
    );
    Ok(SizeAnswer {
        mesh: ask.dir.join(&own.file).display().to_string(),
        ..answer
    })
}

/// The same hull at another scale.
fn scaled(form: &Form, by: f64) -> Form {
    if by == 1.0 {
        return form.clone();
    }
    Form {
        kind: form.kind,
        rim_m: form.rim_m.map(|rim| rim.map(|c| by * c)),
        ..Form::from_mesh(form.envelope.map(|p| by * p))
    }
}

/// How the hull would have to change for the load.
fn change(found: &Found, as_is: usize, own_m: f64) -> FittedMesh {
    let own = &found.lengths[as_is];
    let mm = |m: f64| Number::exact(Kind::Length, m);
    let mut words = Vec::new();
    let best = &found.lengths[found.chosen];
    let holds = own.missed.is_empty();
    let scale = if holds {
        1.0
    } else {
        best.hull.length_m / own_m
    };
    if holds {
        words.push("The hull carries the load as it is.".to_owned());
        let smaller = found.lengths[..as_is].iter().find(|t| t.missed.is_empty());
        if let Some(smaller) = smaller {
            words.push(format!(
                "It could shrink to {:.0} %, {} long.",
                100.0 * smaller.hull.length_m / own_m,
                mm(smaller.hull.length_m).plain()
            ));
        }
    } else {
        let missing: Vec<String> = own.missed.iter().map(told::words).collect();
        words.push(format!("As it is: {}.", missing.join("; ")));
        if (scale - 1.0).abs() > 1e-3 {
            let way = if scale > 1.0 { "Grown" } else { "Shrunk" };
            let still = match best.missed.first() {
                None => "it does what was asked".to_owned(),
                Some(first) => format!("it comes nearest ({})", told::words(first)),
            };
            words.push(format!(
                "{way} to {:.0} %, {} long, {still}.",
                100.0 * scale,
                mm(best.hull.length_m).plain()
            ));
        }
    }
    let freeboard = own.missed.iter().find(|m| m.what == Quantity::Freeboard);
    let deck = freeboard.and_then(|m| Some(m.wanted - m.is?));
    if let Some(deck) = deck {
        words.push(format!(
            "With the deck and its openings {} higher, the freeboard is enough.",
            mm(deck).plain()
        ));
    }
    let pads = pads(own);
    if let Some([is, wanted]) = pads {
        let word = if wanted > is { "wider" } else { "narrower" };
        words.push(format!(
            "Pads {} wide instead of {} ({word}) suit the load best.",
            mm(wanted).plain(),
            mm(is).plain()
        ));
    }
    FittedMesh {
        guessed: Vec::new(),
        scale: Number::exact(Kind::Fraction, scale),
        deck: deck.map(mm),
        pad_width: pads.map(|p| p.map(mm)),
        words,
    }
}

/// How wide a pad is, and how wide it would best be; nothing where it is right.
fn pads(own: &Tried) -> Option<[f64; 2]> {
    let stepped: Vec<_> = own.hull.form.surfaces.iter().filter(|s| s.step).collect();
    let is_m = stepped.first()?.beam_m.value;
    let at = |factor: f64| {
        let mut hull = own.hull.clone();
        let mut form = (*hull.form).clone();
        let wider: Vec<RunningOverride> = stepped
            .iter()
            .map(|s| RunningOverride {
                surface: s.name.clone(),
                angle_rad: None,
                beam_m: Some(boat::Measure::given(factor * s.beam_m.value)),
                deadrise_rad: None,
                strake_m: None,
                trailing_edge_x_m: None,
                trailing_edge_z_m: None,
            })
            .collect();
        form::running::apply(&mut form.surfaces, &wider).ok()?;
        hull.form = form.into();
        study::size::again(&own.fitted, &hull).map(|t| (factor, t.cost))
    };
    let costs: Vec<(f64, f64)> = PADS.iter().filter_map(|f| at(*f)).collect();
    let now = costs.iter().find(|c| c.0 == 1.0)?.1;
    let best = costs.iter().min_by(|a, b| a.1.total_cmp(&b.1))?;
    // Less than this is within what nobody can tell.
    (best.1 < now - 0.05 && best.0 != 1.0).then_some([is_m, best.0 * is_m])
}
