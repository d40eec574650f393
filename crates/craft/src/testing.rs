//! Boats made by formula, for tests of the solvers.

use std::sync::Arc;

use boat::{
    Battery, Controller, Drive, Measure, Motor, Propeller as GivenPropeller, Shaft, ShaftEnds,
    ShaftKind,
};
use form::{Columns, Panel};
use nalgebra::Vector3;

use crate::added_mass::Sections;
use crate::craft::{Craft, Fluids, Parts};
use crate::elements::buoyancy::Buoyancy;
use crate::elements::planing::Planing;
use crate::elements::propeller::Propeller;
use crate::elements::surface::Surface;
use crate::elements::weight::Weight;
use crate::factors::Factors;
use crate::floating::float_on_columns;
use crate::solution::MassProperties;
use power::electrics::running_circuit;

/// A prism: constant vee section, flat transom, no bow.
pub(crate) struct Prism {
    pub beam_m: f64,
    pub deadrise_rad: f64,
    pub length_m: f64,
    pub mass_kg: f64,
    pub lcg_m: f64,
    pub vcg_m: f64,
}

pub(crate) const WATER: Fluids = Fluids {
    water_density_kg_m3: 999.1,
    water_viscosity_m2_s: 1.1386e-6,
    air_density_kg_m3: 1.225,
};

impl Prism {
    pub(crate) fn columns(&self) -> Columns {
        let (nx, ny) = (150, 40);
        let (dx, dy) = (self.length_m / f64::from(nx), self.beam_m / f64::from(ny));
        let mut columns = Columns::default();
        for i in 0..nx {
            for j in 0..ny {
                let y = (f64::from(j) + 0.5) * dy - 0.5 * self.beam_m;
                columns.x_m.push((f64::from(i) + 0.5) * dx);
                columns.y_m.push(y);
                columns.bottom_m.push(y.abs() * self.deadrise_rad.tan());
                columns.top_m.push(self.beam_m);
                columns.area_m2.push(dx * dy);
            }
        }
        columns
    }

    pub(crate) fn surface(&self, strake_m: Option<f64>) -> Surface {
        let panel = Panel {
            width_m: 0.5 * self.beam_m,
            deadrise_rad: self.deadrise_rad,
        };
        let stations = 13;
        let x = |i: usize| self.length_m * i as f64 / (stations - 1) as f64;
        Surface::from_panels(
            "bottom".to_owned(),
            (0..stations)
                .map(|i| Vector3::new(x(i), 0.0, 0.0))
                .collect(),
            vec![panel; stations],
            vec![panel; stations],
            strake_m,
        )
    }

    pub(crate) fn mass(&self) -> MassProperties {
        MassProperties {
            mass_kg: self.mass_kg,
            mass_spread_kg: 0.0,
            cg_m: Vector3::new(self.lcg_m, 0.0, self.vcg_m),
            cg_spread_m: Vector3::zeros(),
            inertia_kg_m2: nalgebra::Matrix3::identity(),
            items: Vec::new(),
        }
    }

    /// Weight, buoyancy and planing bottom, pushed by a covered propeller through the centre of
    /// gravity, along the keel and with no force across it, as the 1964 method has it.
    pub(crate) fn craft(&self) -> Craft {
        self.straked(None)
    }

    /// The same with a spray strake on both sides.
    pub(crate) fn straked(&self, strake_m: Option<f64>) -> Craft {
        let bottom = self.surface(strake_m);
        let surfaces = Arc::new(vec![bottom]);
        let columns = Arc::new(self.columns());
        let mass = self.mass();
        let floated = float_on_columns(&columns, &mass, WATER.water_density_kg_m3).expect("floats");
        let drive = drive(self);
        let draught = 0.1 * floated.volume_m3 / floated.waterplane_m2;
        let deepest = (-floated.attitude.rise_m).max(draught);
        let straight = Factors {
            propeller_lift: 0.0,
            // Nor does it turn the hull over.
            torque: 0.0,
            ..Factors::default()
        };
        let propeller = Propeller::new(&drive, 0, Arc::new(Vec::new()), straight);
        Craft::from_parts(Parts {
            elements: vec![
                Box::new(Weight {
                    mass_kg: self.mass_kg,
                    cg_m: mass.cg_m,
                }),
                Box::new(Buoyancy::new(columns, Arc::clone(&surfaces), deepest, 1.0)),
                Box::new(Planing {
                    surfaces,
                    index: 0,
                    roughness_m: 0.0,
                    factors: Factors::default(),
                }),
            ],
            blades: Vec::new(),
            propellers: vec![propeller.expect("a propeller of the series")],
            circuits: vec![running_circuit(&drive, 1.0).expect("a drive")],
            drive_names: vec![String::new()],
            mass_kg: self.mass_kg,
            cg_m: mass.cg_m,
            inertia_kg_m2: mass.inertia_kg_m2,
            sections: std::sync::Arc::new(Sections::of(&self.columns())),
            topsides: None,
            geometry: None,
            length_m: self.length_m,
            steered_at_m: None,
            fluids: WATER,
            wind_m_s: Vector3::zeros(),
            rest: floated.attitude,
        })
    }
}

/// A drive whose disc stays covered: far below the hull, pushing level through the centre of
/// gravity by its shaft's angle being zero and the disc standing at the height of the centre.
fn drive(prism: &Prism) -> Drive {
    let g = Measure::given;
    Drive {
        name: String::new(),
        battery: Battery {
            series: 8,
            parallel: 1,
            capacity_c: g(18_000.0),
            cell_resistance_ohm: g(0.001),
            state_of_charge: g(0.8),
            temperature_c: g(25.0),
            max_temperature_c: g(55.0),
            mass_kg: None,
            fuse_a: None,
            connector_a: None,
        },
        controller: Controller {
            resistance_ohm: g(0.002),
            rated_current_a: None,
            lead_m: g(0.1),
            current_limit_a: None,
            capacitor_f: None,
            max_temperature_c: g(75.0),
            mass_kg: None,
        },
        motor: Motor {
            kv_rad_s_v: g(105.0),
            resistance_ohm: g(0.01),
            no_load_current_a: g(3.0),
            winding_temperature_c: g(20.0),
            max_current_a: None,
            max_temperature_c: g(100.0),
            poles: None,
            diameter_m: None,
            length_m: None,
            mass_kg: None,
        },
        gear_ratio: g(1.0),
        shaft: Shaft {
            angle_rad: g(0.0),
            toe_rad: g(0.0),
            efficiency: Some(g(1.0)),
            tube_m: g(0.2),
            bend_rad: g(0.0),
            gap_m: g(0.001),
            lubricant: boat::Lubricant::Oil,
            diameter_m: None,
            length_m: None,
            kind: ShaftKind::Flex,
            ends: ShaftEnds::Pinned,
            stub_m: None,
        },
        cooling: None,
        strut: None,
        barrel: None,
        propeller: GivenPropeller {
            diameter_m: g(0.06),
            pitch_ratio: g(1.4),
            blades: 3,
            area_ratio: g(0.5),
            // Far behind and at the height of the centre of gravity along the keel direction, but
            // deep under water because the boat trims: kept wet by the test's own geometry.
            at: [g(-30.0), g(0.0), g(prism.vcg_m)],
            right_handed: true,
            lift_fraction: g(0.0),
            cup_m: 0.0,
            material: None,
            measured: Vec::new(),
        },
    }
}

/// A drive of the series, for tests of its parts.
pub(crate) fn a_drive() -> Drive {
    drive(&Prism {
        beam_m: 0.2,
        deadrise_rad: 0.2,
        length_m: 0.8,
        mass_kg: 2.0,
        lcg_m: 0.25,
        vcg_m: 0.05,
    })
}

/// Its propeller.
pub(crate) fn a_propeller() -> GivenPropeller {
    a_drive().propeller
}
