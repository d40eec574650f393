//! Which cells, motor and propeller: set-ups compared, with what would break.

pub(crate) mod own;

use advice::Number;
use boat::Kind;
use power::fit;
use power::setup::CARE;
use power::thermal::Part;
use serde::{Deserialize, Serialize};
use study::Quantity;
use study::outfit::{Compared, Lists, motor, outfit, pack};
use study::quantity::Solved;
use study::stint::{Stint, time_s};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::check::Carried;
use crate::fault::Fault;
use crate::folder::Loaded;
use crate::question::Question;
use crate::text_at::TextAt;

/// Most set-ups told.
pub const MOST_ROWS: u32 = 100_000;

/// Which set-up is best?
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct OutfitAsk {
    /// What to put first among the sound ones.
    pub wish: Wish,
    /// Fewest and most cells in series to try; one less to two more unless given.
    pub cells: Option<(u32, u32)>,
    /// What the builder owns or could buy: lists of packs, motors and propellers.
    pub own: Option<TextAt>,
    /// Tell so many.
    #[schema(minimum = 1, maximum = 100_000)]
    pub rows: u32,
}

/// What set-ups are ranked by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Wish {
    /// Top speed.
    #[default]
    Speed,
    /// Minutes flat out.
    RunTime,
    /// A cool motor.
    Cool,
}

impl Default for OutfitAsk {
    fn default() -> Self {
        Self {
            wish: Wish::default(),
            cells: None,
            own: None,
            rows: 20,
        }
    }
}

/// Set-ups compared.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct OutfitAnswer {
    /// The builder's name for the boat.
    pub boat: String,
    /// How many.
    pub compared: usize,
    /// Beyond this speed drag is extrapolated.
    pub drag_known_to: Number,
    /// The boat as it is, with the numbers of `check`.
    pub present: SetUp,
    /// How many of them break nothing.
    pub sound: usize,
    /// Best first.
    pub set_ups: Vec<SetUp>,
    /// How to treat lithium packs.
    pub care: Vec<String>,
    /// What predictions carry from outings.
    pub learned: Option<Carried>,
}

/// One set-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SetUp {
    /// Its name.
    pub pack: String,
    /// Its name.
    pub motor: String,
    /// Its name.
    pub propeller: String,
    /// Flat out.
    pub top_speed: Number,
    /// Faster than that: drag is not known further.
    pub faster_than_shown: bool,
    /// From the pack.
    pub hump_current: Number,
    /// From the pack.
    pub straight_current: Number,
    /// Of the propeller.
    pub shaft_speed: Number,
    /// Flat out.
    pub run_time: Number,
    /// After the run time wished for.
    pub motor_temperature: Number,
    /// What would break, in words.
    pub breaks: Vec<String>,
}

impl Question for OutfitAsk {
    type Answer = OutfitAnswer;

    fn answer(&self, bench: &Bench) -> Result<OutfitAnswer, Fault> {
        let loaded = bench.load()?;
        bench.step("running from rest to top speed")?;
        let solved = loaded.solved()?;
        let boat = &loaded.boat;
        let stint = Stint::of(boat, &solved.craft, &solved.curve, 0)
            .map_err(|e| loaded.fault(&e, "`skimwright check` says why it does not run"))?;
        let drive = &boat.drives[0];
        let mut around = Lists::around(drive);
        if let Some((low, high)) = self.cells {
            around.packs = (low..=high).map(|series| pack(drive, series)).collect();
        }
        let lists = match &self.own {
            None => around,
            Some(own) => own::read(own, drive, around)?,
        };
        let wish = match self.wish {
            Wish::Speed => fit::Wish::Speed,
            Wish::RunTime => fit::Wish::RunTime,
            Wish::Cool => fit::Wish::Cool,
        };
        bench.step("launching it")?;
        let hump_a = study::hump_current_a(boat, &solved);
        let wide_open_a = solved.quantities.get(Quantity::HumpCurrent);
        let launched = hump_a
            .zip(wide_open_a)
            .map_or(1.0, |(a, b)| a / b.max(1e-9));
        bench.step("comparing set-ups")?;
        let compared = outfit(boat, &solved.craft, &stint, drive, lists, wish, launched)
            .map_err(|e| loaded.fault(&e, "check the propellers' sizes"))?;
        let told = compared.outcomes.iter().take(self.rows as usize);
        Ok(OutfitAnswer {
            boat: boat.name.clone(),
            compared: compared.outcomes.len(),
            drag_known_to: Number::exact(Kind::Speed, compared.known_to_m_s),
            present: SetUp::present(&loaded, &solved, &stint, launched),
            sound: compared.outcomes.iter().filter(|o| o.sound()).count(),
            set_ups: told.map(|o| SetUp::of(o, &compared)).collect(),
            care: CARE.map(str::to_owned).to_vec(),
            learned: Carried::of(&loaded.learned),
        })
    }

    fn files(&self) -> Vec<&std::path::Path> {
        self.own.iter().filter_map(TextAt::file).collect()
    }
}

impl SetUp {
    /// The boat's own: the steady solver's numbers and the run in time's.
    fn present(loaded: &Loaded, solved: &Solved, stint: &Stint, launched: f64) -> Self {
        let drive = &loaded.boat.drives[0];
        let own = |quantity: Quantity| {
            let value = solved.quantities.get(quantity).unwrap_or(f64::NAN);
            Number::exact(quantity.kind(), value)
        };
        let ran = stint.run_named("flat-out", 0.0).ok().flatten();
        let run_time_s = ran.as_ref().map_or(f64::NAN, |(_, run)| time_s(run));
        let motor_k = ran.map_or(f64::NAN, |(_, run)| run.hottest_k[Part::Can as usize]);
        Self {
            pack: pack(drive, drive.battery.series).name,
            motor: motor(drive, 1.0).name,
            propeller: format!(
                "{:.0} x {:.1}",
                1e3 * drive.propeller.diameter_m.value,
                drive.propeller.pitch_ratio.value
            ),
            top_speed: own(Quantity::TopSpeed),
            faster_than_shown: false,
            hump_current: Number::exact(Kind::Current, launched * own(Quantity::HumpCurrent).value),
            straight_current: own(Quantity::TopCurrent),
            shaft_speed: own(Quantity::TopShaftSpeed),
            run_time: Number::exact(Kind::Time, run_time_s),
            motor_temperature: Number::exact(Kind::Temperature, motor_k - 273.15),
            breaks: Vec::new(),
        }
    }

    fn of(o: &fit::Outcome, compared: &Compared) -> Self {
        let lists = &compared.lists;
        Self {
            pack: lists.packs[o.pack].name.clone(),
            motor: lists.motors[o.motor].name.clone(),
            propeller: lists.propellers[o.propeller].name.clone(),
            top_speed: Number::exact(Kind::Speed, o.top_speed_m_s),
            faster_than_shown: o.faster,
            hump_current: Number::exact(Kind::Current, o.hump_a),
            straight_current: Number::exact(Kind::Current, o.straight_a),
            shaft_speed: Number::exact(Kind::ShaftSpeed, o.shaft_rad_s),
            run_time: Number::exact(Kind::Time, o.run_time_s),
            motor_temperature: Number::exact(Kind::Temperature, o.motor_k - 273.15),
            breaks: o.broken().map(|b| b.words().to_owned()).collect(),
        }
    }
}
