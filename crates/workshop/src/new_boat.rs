//! A boat folder to start from: a starter hull with everything on it, or a builder's own mesh.

use advice::{Give, give_first};
use boat::Kind;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use study::size::practice::{propeller_m, usual_wish};
use study::size::{SetUp, Shape, Trim, Wish, write};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::fault::{Fault, shown};
use crate::made::{boat_folder, name_of, refuse_taken};
use crate::question::Question;
use crate::size::{CELLS, SPEEDS_M_S, mesh};

/// Makes a boat folder from a starter hull or a mesh.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, ToSchema)]
pub struct NewAsk {
    /// Folder to make; it must not exist, or be empty.
    #[schema(value_type = String)]
    pub dir: PathBuf,
    /// `three-point`, `outrigger`, `vee` or `catamaran`; for a mesh it may be left out, since its shape tells it.
    #[serde(default)]
    pub hull: Option<String>,
    /// Name of the boat; the folder's name unless given.
    pub name: Option<String>,
    /// The builder's own mesh, copied into the folder.
    #[serde(default)]
    #[schema(value_type = Option<String>)]
    pub mesh: Option<PathBuf>,
    /// How it is to be read.
    #[serde(default)]
    pub read_as: mesh::ReadAs,
    /// What is known of what goes on it.
    #[serde(default)]
    pub known: Known,
}

/// What is known of what goes on a mesh; common practice takes the place of the rest.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct Known {
    /// Hull and everything on it, kg.
    pub all_up_kg: Option<f64>,
    /// Cells in series of each pack.
    pub cells: Option<u32>,
    /// Top speed wished for, m/s.
    pub speed_m_s: Option<f64>,
}

impl Known {
    /// The same wish with what is known in it.
    fn over(&self, usual: Wish, shell_kg: f64) -> Result<Wish, Fault> {
        let mut wish = usual;
        if let Some(all_kg) = self.all_up_kg {
            if !all_kg.is_finite() || all_kg <= 1.1 * shell_kg {
                return Err(Fault::new(
                    format!(
                        "the boat cannot weigh {}: its printed hull alone is some {}",
                        boat::show(Kind::Mass, all_kg),
                        boat::show(Kind::Mass, shell_kg)
                    ),
                    "give the mass of the boat ready to run, or leave it out; nothing was made",
                ));
            }
            wish.carry_kg = all_kg - shell_kg;
        }
        if let Some(cells) = self.cells {
            if !(CELLS[0]..=CELLS[1]).contains(&cells) {
                return Err(Fault::new(
                    format!("a pack of {cells} cells in series"),
                    format!("{} to {}; nothing was made", CELLS[0], CELLS[1]),
                ));
            }
            wish.series = cells;
        }
        if let Some(speed) = self.speed_m_s {
            if !(SPEEDS_M_S[0]..=SPEEDS_M_S[1]).contains(&speed) {
                return Err(Fault::new(
                    format!(
                        "a top speed of {} is no boat's",
                        boat::show(Kind::Speed, speed)
                    ),
                    "give another; nothing was made",
                ));
            }
            wish.speed_m_s = speed;
        }
        Ok(wish)
    }
}

/// What was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct NewAnswer {
    /// The boat file.
    pub made: String,
    /// As asked, or as found.
    pub hull_type: String,
    /// Of the boat.
    pub name: String,
    /// Numbers to give first, since everything on a mesh was put in by common practice.
    pub give_first: Vec<Give>,
    /// What was guessed of a mesh: size, type, unit, direction.
    pub guessed: Vec<String>,
}

impl Question for NewAsk {
    type Answer = NewAnswer;

    fn answer(&self, bench: &Bench) -> Result<NewAnswer, Fault> {
        let name = name_of(&self.dir, self.name.as_ref())?;
        refuse_taken(&self.dir)?;
        match &self.mesh {
            Some(file) => self.of_mesh(file, name, bench),
            None => self.of_starter(name),
        }
    }

    fn files(&self) -> Vec<&Path> {
        let mut all = vec![self.dir.as_path()];
        all.extend(self.mesh.as_deref());
        all
    }

    fn writes(&self) -> bool {
        true
    }
}

impl NewAsk {
    fn of_starter(&self, name: String) -> Result<NewAnswer, Fault> {
        let there_are = format!("there are: {}", boat::STARTER_TYPES.join(", "));
        let Some(hull) = &self.hull else {
            return Err(Fault::new("which type of hull is not said", there_are));
        };
        let Some(text) = boat::template(hull, &name) else {
            let what = format!("there is no starter hull of type {hull}");
            return Err(Fault::new(what, there_are));
        };
        self.made(name, hull.clone(), &text, &[], Vec::new())
    }

    fn of_mesh(&self, file: &Path, name: String, bench: &Bench) -> Result<NewAnswer, Fault> {
        bench.step("reading the mesh")?;
        let own = mesh::read(file, &self.read_as)?;
        let hull = mesh::type_of(&own.form, self.hull.as_deref())?;
        let bare = mesh::hull_of(&own.form, hull, false)?;
        let usual = usual_wish(hull, bare.length_m, bare.shell.mass_kg);
        let wish = self.known.over(usual, bare.shell.mass_kg)?;
        let [least, most] = propeller_m(hull, bare.length_m);
        let propeller_m = (1e3 * 0.5 * (least + most)).round() * 1e-3;
        let set_up = SetUp::for_speed(&wish, propeller_m);
        let fitted = bare.fitted(wish, set_up, Trim::first(hull));
        let text = write(&name, Shape::Mesh(&own.file), &fitted, false);
        let text = self.read_as.written(text)?;
        let guessed = mesh::guessed(&own.form, hull, self.hull.is_some());
        let with = [(own.file.as_str(), own.bytes.as_slice())];
        self.made(name, hull.name().to_owned(), &text, &with, guessed)
    }

    fn made(
        &self,
        name: String,
        hull_type: String,
        text: &str,
        with: &[(&str, &[u8])],
        guessed: Vec<String>,
    ) -> Result<NewAnswer, Fault> {
        let file = self.dir.join("boat.toml");
        // The name may be one that a boat cannot have: found out before anything is written.
        let (boat, _) = boat::load(text, &shown(&file))?;
        let mut files = vec![("boat.toml", text.as_bytes())];
        files.extend(with);
        boat_folder(&self.dir, &files)?;
        Ok(NewAnswer {
            made: file.display().to_string(),
            hull_type,
            name,
            give_first: give_first(&boat),
            guessed,
        })
    }
}
