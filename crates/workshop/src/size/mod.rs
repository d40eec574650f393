//! How big, and where things go: a boat folder sized and fitted out for what it has to carry, or a builder's mesh
//! fitted out and judged for the load.

pub mod kept;
pub mod mesh;
pub mod told;

use advice::{Finding, Standing, findings, give_first};
use boat::Kind;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use study::hull_type::HullType;
use study::size::{Found, Going, Shape, Tried, Wish, best, search, write};
use study::{Learned, Quantity, Study, Subject};
use utoipa::ToSchema;

use crate::bench::{Bench, BoatAt};
use crate::check::{Effort, studied};
use crate::fault::{Fault, shown};
use crate::made::{boat_folder, name_of, refuse_taken};
use crate::question::Question;
use told::{SizeAnswer, Studied};

/// How big must it be, and where does everything go?
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SizeAsk {
    /// Folder to make; it must not exist, or be empty.
    #[schema(value_type = String)]
    pub dir: PathBuf,
    /// `three-point`, `outrigger`, `vee` or `catamaran`; may be left out for a mesh, whose shape tells it.
    pub hull: Option<String>,
    /// Mass of everything but the printed hull, kg.
    pub carry_kg: f64,
    /// Cells in series of each pack.
    pub cells: u32,
    /// Top speed wanted, m/s.
    pub speed_m_s: f64,
    /// Only this length, m.
    #[serde(default)]
    pub length_m: Option<f64>,
    /// The builder's own mesh, to be kept as it is.
    #[serde(default)]
    #[schema(value_type = Option<String>)]
    pub fit: Option<PathBuf>,
    /// Name of the boat; the folder's name unless given.
    #[serde(default)]
    pub name: Option<String>,
    /// How hard to look at what was chosen.
    #[serde(default)]
    pub effort: Effort,
}

/// What can be carried, kg.
const CARRIED_KG: [f64; 2] = [0.05, 30.0];
/// Speeds that are asked for, m/s.
pub(crate) const SPEEDS_M_S: [f64; 2] = [2.0, 120.0];
/// Lengths that can be asked for, m.
const LENGTHS_M: [f64; 2] = [0.2, 2.0];
/// Cells a pack can have.
pub(crate) const CELLS: [u32; 2] = [1, 14];

impl Question for SizeAsk {
    type Answer = SizeAnswer;

    fn answer(&self, bench: &Bench) -> Result<SizeAnswer, Fault> {
        let wish = self.wish()?;
        let name = name_of(&self.dir, self.name.as_ref())?;
        refuse_taken(&self.dir)?;
        match &self.fit {
            Some(file) => mesh::fit(self, file, &name, wish, bench),
            None => self.sized(&name, wish, bench),
        }
    }

    fn files(&self) -> Vec<&Path> {
        let mut all = vec![self.dir.as_path()];
        all.extend(self.fit.as_deref());
        all
    }

    fn writes(&self) -> bool {
        true
    }
}

/// A hull type by its name.
///
/// # Errors
/// [`Fault`] that lists them.
pub fn hull_named(name: &str) -> Result<HullType, Fault> {
    let types = [
        HullType::ThreePoint,
        HullType::Outrigger,
        HullType::Vee,
        HullType::Catamaran,
    ];
    types.into_iter().find(|t| t.name() == name).ok_or_else(|| {
        Fault::new(
            format!("there is no starter hull of type {name}"),
            format!("there are: {}", boat::STARTER_TYPES.join(", ")),
        )
    })
}

impl SizeAsk {
    fn wish(&self) -> Result<Wish, Fault> {
        let within = |what: &str, kind: Kind, value: f64, [low, high]: [f64; 2], hint: &str| {
            if (low..=high).contains(&value) {
                return Ok(());
            }
            let show = |v: f64| boat::show(kind, v);
            Err(Fault::new(
                format!(
                    "{what} of {} is no boat's; {} to {} can be asked for",
                    show(value),
                    show(low),
                    show(high)
                ),
                hint,
            ))
        };
        within(
            "a load",
            Kind::Mass,
            self.carry_kg,
            CARRIED_KG,
            "`--carry` is the mass of everything but the printed hull: `--carry 1.25kg`",
        )?;
        within(
            "a top speed",
            Kind::Speed,
            self.speed_m_s,
            SPEEDS_M_S,
            "`--speed 60km/h`",
        )?;
        if let Some(length) = self.length_m {
            within(
                "a length",
                Kind::Length,
                length,
                LENGTHS_M,
                "`--length 600mm`",
            )?;
        }
        if !(CELLS[0]..=CELLS[1]).contains(&self.cells) {
            return Err(Fault::new(
                format!("a pack of {} cells in series", self.cells),
                format!("{} to {}: `--cells 3S`", CELLS[0], CELLS[1]),
            ));
        }
        Ok(Wish {
            carry_kg: self.carry_kg,
            series: self.cells,
            speed_m_s: self.speed_m_s,
        })
    }

    fn sized(&self, name: &str, wish: Wish, bench: &Bench) -> Result<SizeAnswer, Fault> {
        let hull = self.hull.as_deref().ok_or_else(|| {
            Fault::new(
                "which type of hull is not said",
                format!(
                    "give --hull with one of: {}",
                    boat::STARTER_TYPES.join(", ")
                ),
            )
        })?;
        let hull = hull_named(hull)?;
        // The name may be one that a boat cannot have: found out before anything is worked out.
        bench.step("trying lengths, beams, propellers and motors")?;
        let only = self.length_m.map(|l| [l, l]);
        let mut found = look(bench, |going| search(hull, wish, only, going));
        let mut instead = None;
        if only.is_some() && found.as_ref().is_none_or(|f| !f.floats()) {
            // That length does not carry it: the nearest that does.
            bench.step("trying other lengths")?;
            instead = self.length_m;
            found = look(bench, |going| search(hull, wish, None, going));
        }
        let mut found = found.ok_or_else(|| match bench.watch().wanted() {
            false => Fault::Stopped,
            true => Fault::new(
                format!(
                    "no {} that was tried floats with {}",
                    hull.name(),
                    boat::show(Kind::Mass, wish.carry_kg)
                ),
                "carry less, or take another type of hull",
            ),
        })?;
        let asked = ask_few(&mut found, bench);
        let chosen = settle(&found, &asked);
        let this = &found.lengths[chosen];
        let more_cells = more_cells(&found, chosen, Shape::Starter, bench);
        let text = write(name, Shape::Starter, &this.fitted, true);
        let file = self.dir.join("boat.toml");
        boat::load(&text, &shown(&file))?;
        let stl = form::write::stl(&this.hull.form.envelope)
            .map_err(|e| Fault::new(e.to_string(), ""))?;
        let stl_name = "hull.stl";
        let sized = told::kept(self, &found, chosen, &asked, instead).bytes()?;
        boat_folder(
            &self.dir,
            &[
                ("boat.toml", text.as_bytes()),
                (stl_name, &stl),
                (kept::SIZED, &sized),
            ],
        )?;
        let verdict = self.verdict(bench)?;
        let boat = boat::load(&text, "boat.toml")?.0;
        Ok(SizeAnswer {
            mesh: self.dir.join(stl_name).display().to_string(),
            ..told::answer(
                self,
                name,
                &found,
                chosen,
                &asked,
                told::More {
                    instead_of_m: instead,
                    give_first: give_first(&boat),
                    verdict,
                    more_cells,
                    fitted: None,
                },
            )
        })
    }

    /// The same answer as `check` gives of the folder; nothing where nobody waits for it.
    pub(crate) fn verdict(&self, bench: &Bench) -> Result<Option<advice::Verdict>, Fault> {
        if !bench.watch().wanted() {
            return Ok(None);
        }
        let at = BoatAt::saved(&self.dir);
        let of = Bench::new(Some(&at), bench.watch());
        match of
            .load()
            .and_then(|loaded| studied(loaded, self.effort, &of))
        {
            Ok(study) => Ok(Some(advice::verdict(&study, &findings(&study)))),
            Err(Fault::Stopped) => Ok(None),
            Err(fault) => Err(fault),
        }
    }
}

/// So many more cells are tried when those asked for do not reach the speed.
const MORE_CELLS: u32 = 2;

/// With how many cells the same hull would reach the speed; nothing where it does, or where none would.
pub(crate) fn more_cells(
    found: &Found,
    chosen: usize,
    shape: Shape<'_>,
    bench: &Bench,
) -> Option<u32> {
    let this = &found.lengths[chosen];
    let slow = |t: &Tried| {
        t.missed
            .iter()
            .any(|m| m.what == Quantity::TopSpeed && m.is.is_some())
    };
    if !slow(this) {
        return None;
    }
    let reaches = |series: &u32| {
        let wish = Wish {
            series: *series,
            ..this.fitted.wish
        };
        let hulls = std::slice::from_ref(&this.hull);
        let found = look(bench, |going| best(hulls, wish, shape, None, going));
        found.is_some_and(|f| !slow(&f.lengths[f.chosen]))
    };
    let now = this.fitted.wish.series;
    (now + 1..=now + MORE_CELLS).find(reaches)
}

/// Searches, telling whoever waits how far it is.
pub(crate) fn look(bench: &Bench, how: impl FnOnce(&Going<'_>) -> Option<Found>) -> Option<Found> {
    let watch = bench.watch();
    how(&Going {
        part: &|done| watch.part(done),
        wanted: &|| watch.wanted(),
    })
}

/// At most so many are asked everything, besides one size smaller and one larger.
const FEW: usize = 8;

/// Asks everything of the best, set otherwise and then of other lengths while it does not hold; then of what stands
/// beside the one that does.
pub(crate) fn ask_few(found: &mut Found, bench: &Bench) -> Vec<Studied> {
    let mut asked: Vec<Studied> = Vec::new();
    let mut order: Vec<usize> = (0..found.lengths.len()).collect();
    order.sort_by(|a, b| found.lengths[*a].cost.total_cmp(&found.lengths[*b].cost));
    let mut count = 0;
    for index in order {
        let done = count >= FEW || asked.iter().any(Studied::holds);
        if done || bench.go_on().is_err() {
            break;
        }
        let ways = ask_ways(found, index, Shape::Starter, WAYS.min(FEW - count), bench);
        count += ways.0;
        asked.extend(ways.1);
    }
    let chosen = settle(found, &asked);
    for index in [chosen.wrapping_sub(1), chosen + 1] {
        let missing = found.lengths.get(index).is_some() && !asked.iter().any(|a| a.index == index);
        if missing
            && bench
                .step("asking everything of one size smaller and larger")
                .is_ok()
        {
            asked.extend(everything(index, &found.lengths[index], Shape::Starter));
        }
    }
    asked
}

/// Asks everything of one length, set as it is best and then otherwise while it does not hold; keeps the setting that
/// has least against it. Told is how many were asked.
pub(crate) fn ask_ways(
    found: &mut Found,
    index: usize,
    shape: Shape<'_>,
    most: usize,
    bench: &Bench,
) -> (usize, Option<Studied>) {
    let mut ways = vec![found.lengths[index].clone()];
    let others = found.others.iter().filter(|o| o.0 == index);
    ways.extend(others.map(|o| o.1.clone()));
    let (mut count, mut best): (usize, Option<Studied>) = (0, None);
    for way in ways.into_iter().take(most) {
        if bench.step("asking everything of the best").is_err() {
            break;
        }
        count += 1;
        let Some(told) = everything(index, &way, shape) else {
            continue;
        };
        if best.as_ref().is_none_or(|b| told.against() < b.against()) {
            found.lengths[index] = way;
            best = Some(told);
        }
        if best.as_ref().is_some_and(Studied::holds) {
            break;
        }
    }
    (count, best)
}

/// So many settings of one length are asked everything.
const WAYS: usize = 2;

/// The index of the best that holds; else of the one with the fewest stops.
fn settle(found: &Found, asked: &[Studied]) -> usize {
    let cost = |a: &&Studied| found.lengths[a.index].cost;
    let best = asked.iter().min_by(|a, b| {
        (a.against(), cost(a))
            .partial_cmp(&(b.against(), cost(b)))
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    best.map_or(found.chosen, |a| a.index)
}

fn everything(index: usize, tried: &Tried, shape: Shape<'_>) -> Option<Studied> {
    let study = study_of(tried, shape)?;
    Some(Studied::of(index, &study, &findings(&study)))
}

/// Every question of a boat that is in no folder yet, without spread.
fn study_of(tried: &Tried, shape: Shape<'_>) -> Option<Study> {
    let boat = study::size::declared(&tried.fitted, shape)?;
    let subject = Subject {
        boat,
        form: tried.hull.form.clone(),
        learned: Learned::default(),
    };
    let effort = study::Effort {
        draws: 0,
        trials: false,
        ..study::Effort::default()
    };
    study::study_with(subject, None, effort, &|_| ()).ok()
}

/// Sentences of what says stop, and of a boat that does not stay down.
pub(crate) fn stops(all: &[Finding]) -> Vec<String> {
    let flies = |f: &Finding| f.id == "flight-margin" && outside(f);
    let stops = all.iter();
    let stops = stops.filter(|f| f.standing == Standing::Stop || flies(f));
    stops.map(|f| f.sentence.clone()).collect()
}

/// Past its limit, whatever its spread.
fn outside(finding: &Finding) -> bool {
    let value = finding.number.map(|n| n.value);
    let limit = finding.limit.as_ref();
    value.zip(limit).is_some_and(|(v, l)| l.margin(v) < 0.0)
}
