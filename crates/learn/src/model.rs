//! The boat's model asked for what was measured, with its uncertain numbers moved.

use crate::observe::{Observed, Place};
use boat::Boat;
use craft::steady::Running;
use craft::{Craft, Factors, MassProperties, RunningState, SpeedCurve};
use evidence::Measured;
use evidence::outing::QuantityKind;
use form::Form;
use laws::constants::HALF_WIDTH_95;
use study::lever::Lever;
use study::stint::Stint;

/// A number that is uncertain while reconciling.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Uncertain {
    /// May be learned and kept.
    Lever(Lever),
    /// All-up mass as a multiplier; weigh it rather than learn it.
    Mass,
    /// Balance ahead of the transom, m from the stated one; measure it rather than learn it.
    Balance,
    /// Wind from ahead on the day, m/s.
    Headwind,
}

impl Uncertain {
    /// What a builder calls it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Lever(lever) => lever.name(),
            Self::Mass => "all-up mass",
            Self::Balance => "balance point",
            Self::Headwind => "headwind of the day",
        }
    }

    /// Whether what is learned of it is kept.
    pub fn is_kept(self) -> bool {
        matches!(self, Self::Lever(_))
    }
}

/// A boat and its mass with a known speed curve to start from.
pub struct Model<'a> {
    boat: &'a Boat,
    form: &'a Form,
    mass: &'a MassProperties,
    curve: &'a SpeedCurve,
    /// What may be moved.
    pub uncertain: Vec<Uncertain>,
    /// Before measuring, standard uncertainties.
    pub priors: Vec<Measured>,
}

impl<'a> Model<'a> {
    /// For a boat as declared.
    pub fn new(
        boat: &'a Boat,
        form: &'a Form,
        mass: &'a MassProperties,
        curve: &'a SpeedCurve,
    ) -> Self {
        let mut uncertain = Vec::new();
        let mut priors = Vec::new();
        let mut add = |what, value, half_width: f64| {
            if half_width > 0.0 {
                uncertain.push(what);
                priors.push(Measured::new(value, half_width / HALF_WIDTH_95));
            }
        };
        for lever in Lever::all() {
            if let Some((value, half_width)) = lever.prior(boat) {
                add(Uncertain::Lever(lever), value, half_width);
            }
        }
        add(Uncertain::Mass, 1.0, mass.mass_spread_kg / mass.mass_kg);
        add(Uncertain::Balance, 0.0, mass.cg_spread_m.x.abs());
        Self {
            boat,
            form,
            mass,
            curve,
            uncertain,
            priors,
        }
    }

    /// The same on a day with wind from an unknown side.
    #[must_use]
    pub fn in_wind(mut self, headwind_m_s: f64) -> Self {
        self.uncertain.push(Uncertain::Headwind);
        let declared = self.boat.air.headwind_m_s.value;
        self.priors.push(Measured::new(declared, headwind_m_s));
        self
    }

    /// Values of everything observed; `None` where one of them has no answer.
    pub fn ask(&self, at: &[f64], observed: &[Observed]) -> Option<Vec<f64>> {
        let (mut boat, mut factors, mut mass) =
            (self.boat.clone(), Factors::default(), self.mass.clone());
        for (what, value) in self.uncertain.iter().zip(at) {
            match what {
                Uncertain::Lever(lever) => lever.set(*value, &mut boat, &mut factors),
                Uncertain::Mass => {
                    mass.mass_kg *= value;
                    mass.inertia_kg_m2 *= *value;
                }
                Uncertain::Balance => mass.cg_m.x += value,
                Uncertain::Headwind => boat.air.headwind_m_s.value = *value,
            }
        }
        let craft = Craft::new(&boat, self.form, &mass, &factors).ok()?;
        let calm = self.out_of_the_wind(&boat, &mass, &factors, observed)?;
        let mut states: Vec<((Place, bool), RunningState)> = Vec::new();
        let mut values = Vec::with_capacity(observed.len());
        for one in observed {
            let calmed = one.both_ways && calm.is_some();
            let key = (one.place, calmed);
            let craft = calm.as_ref().filter(|_| calmed).unwrap_or(&craft);
            let known = states.iter().position(|(k, _)| *k == key);
            let index = match known {
                Some(index) => index,
                None => {
                    states.push((key, self.state(craft, one.place)?));
                    states.len() - 1
                }
            };
            let state = &states[index].1;
            values.push(match one.kind {
                QuantityKind::MotorTemperature | QuantityKind::ControllerTemperature => {
                    self.temperature(&boat, craft, one)?
                }
                kind => value(state, kind, one.drive)?,
            });
        }
        Some(values)
    }

    /// The boat in its declared wind, for means of both ways, where the day's wind is uncertain at all.
    fn out_of_the_wind(
        &self,
        boat: &Boat,
        mass: &MassProperties,
        factors: &Factors,
        observed: &[Observed],
    ) -> Option<Option<Craft>> {
        let windy = self.uncertain.contains(&Uncertain::Headwind);
        if !windy || !observed.iter().any(|o| o.both_ways) {
            return Some(None);
        }
        let mut calm = boat.clone();
        calm.air.headwind_m_s = self.boat.air.headwind_m_s;
        Craft::new(&calm, self.form, mass, factors).ok().map(Some)
    }

    fn state(&self, craft: &Craft, place: Place) -> Option<RunningState> {
        match place {
            Place::Throttle(throttle) => {
                let full = throttle > 0.97;
                let near = self.curve.balanced().filter(|_| full);
                let from = near.or_else(|| {
                    let away = |s: &&RunningState| (s.throttle - throttle).abs();
                    self.curve
                        .running
                        .iter()
                        .rev()
                        .min_by(|a, b| away(a).total_cmp(&away(b)))
                })?;
                let state = craft
                    .at_throttle_near(&from.running(), throttle.min(1.0))
                    .or_else(|| if full { craft.top_speed() } else { None })?;
                Some(if full { self.as_it_hops(state) } else { state })
            }
            Place::Speed(speed) => {
                let from: Running = nearest(self.curve, speed)?.running();
                craft.state_near(&from, speed)
            }
        }
    }

    /// A boat that does not stay where its forces balance at full throttle is off that by as much as it is as declared:
    /// it is run in time once, not for every step of a fit.
    fn as_it_hops(&self, mut state: RunningState) -> RunningState {
        let (Some(left), Some(mean)) = (&self.curve.left, &self.curve.top) else {
            return state;
        };
        state.speed_m_s *= mean.speed_m_s / left.speed_m_s;
        state.attitude.trim_rad += mean.attitude.trim_rad - left.attitude.trim_rad;
        let each = state
            .drives
            .iter_mut()
            .zip(mean.drives.iter().zip(&left.drives));
        for (drive, (mean, left)) in each {
            drive.shaft_rad_s *= mean.shaft_rad_s / left.shaft_rad_s;
            drive.current_a *= mean.current_a / left.current_a;
            drive.voltage_v *= mean.voltage_v / left.voltage_v;
        }
        state
    }

    /// After so long at that throttle from cold, degC. Drag is that of the boat as declared.
    fn temperature(&self, boat: &Boat, craft: &Craft, one: &Observed) -> Option<f64> {
        let stint = Stint::of(boat, craft, self.curve, one.drive).ok()?;
        let throttle = match one.place {
            Place::Throttle(throttle) => throttle,
            Place::Speed(_) => return None,
        };
        let run = stint.run(&power_script(throttle, one.after_s?)).ok()?;
        let last = run.samples.last()?;
        let part = match one.kind {
            QuantityKind::MotorTemperature => power::thermal::Part::Can,
            _ => power::thermal::Part::Controller,
        };
        Some(last.temperature_k[part as usize] - 273.15)
    }
}

fn power_script(throttle: f64, for_s: f64) -> power::script::Script {
    power::script::Script::cruise(throttle, for_s.clamp(1.0, 1800.0))
}

fn nearest(curve: &SpeedCurve, speed_m_s: f64) -> Option<&RunningState> {
    curve.nearest(speed_m_s)
}

/// A quantity of a steady state.
pub fn value(state: &RunningState, kind: QuantityKind, drive: usize) -> Option<f64> {
    let drive = state.drives.get(drive).or(state.drives.first());
    match kind {
        QuantityKind::Speed => Some(state.speed_m_s),
        QuantityKind::Trim => Some(state.attitude.trim_rad),
        QuantityKind::Heel => Some(state.attitude.heel_rad),
        QuantityKind::ShaftSpeed => drive.map(|d| d.shaft_rad_s),
        QuantityKind::Current => drive.map(|d| d.current_a),
        QuantityKind::Voltage => drive.map(|d| d.voltage_v),
        QuantityKind::Power => drive.map(|d| d.current_a * d.voltage_v),
        _ => None,
    }
}
