//! Prisms under a towing carriage: held to a speed, free to heave and pitch, pulled at the centre of gravity.

#![allow(dead_code)] // each test takes what it needs

use craft::motion::{Controls, Motion, Surroundings};
use craft::{Craft, Factors, MassProperties, attitude::rotation};
use form::{
    Columns, EnvelopeKind, Form, Mesh, Outline, Panel, RunningSurface, Side, SurfaceStation,
};
use motion::body::Body;
use nalgebra::{DMatrix, Matrix3, Vector3};

/// A constant vee section with a flat transom.
#[derive(Debug, Clone, Copy)]
pub struct Prism {
    pub beam_m: f64,
    pub deadrise_deg: f64,
    pub length_m: f64,
    pub mass_kg: f64,
    pub lcg_m: f64,
    pub vcg_m: f64,
    pub gyradius_m: f64,
    /// Instead of what the radius of gyration gives.
    pub inertia_kg_m2: Option<Vector3<f64>>,
}

impl Prism {
    fn deadrise_rad(&self) -> f64 {
        self.deadrise_deg.to_radians()
    }

    fn columns(&self) -> Columns {
        let (nx, ny) = (96, 48);
        let (dx, dy) = (self.length_m / f64::from(nx), self.beam_m / f64::from(ny));
        let mut columns = Columns::default();
        for i in 0..nx {
            for j in 0..ny {
                let y = (f64::from(j) + 0.5) * dy - 0.5 * self.beam_m;
                columns.x_m.push((f64::from(i) + 0.5) * dx);
                columns.y_m.push(y);
                columns.bottom_m.push(y.abs() * self.deadrise_rad().tan());
                columns.top_m.push(self.beam_m);
                columns.area_m2.push(dx * dy);
            }
        }
        columns
    }

    fn surface(&self) -> RunningSurface {
        let panel = Panel {
            width_m: 0.5 * self.beam_m,
            deadrise_rad: self.deadrise_rad(),
        };
        let station = |x_m| SurfaceStation {
            x_m,
            keel_y_m: 0.0,
            keel_z_m: 0.0,
            port: panel,
            starboard: panel,
        };
        let given = boat::Measure::given;
        RunningSurface {
            name: "bottom".to_owned(),
            side: Side::Centre,
            stations: vec![station(0.0), station(self.length_m)],
            angle_rad: given(0.0),
            beam_m: given(self.beam_m),
            deadrise_rad: given(self.deadrise_rad()),
            trailing_edge_m: [0.0; 3],
            step: false,
            face_deadrise_rad: given(self.deadrise_rad()),
            keel_flat_m: 0.0,
            across: Default::default(),
            strake_m: None,
            edge_radius_m: 0.0,
        }
    }

    fn form(&self) -> Form {
        // A silhouette of next to nothing: a carriage's tables leave air out.
        let outline = Outline {
            front_area_m2: 1e-6,
            front_centre_z_m: self.vcg_m,
            side_area_m2: 1e-6,
            side_centre_m: [self.lcg_m, self.vcg_m],
            plan_area_m2: 1e-6,
            plan_centre_x_m: self.lcg_m,
            beam_m: self.beam_m,
            length_m: self.length_m,
        };
        Form {
            envelope: Mesh::default(),
            kind: EnvelopeKind::Solid,
            wall_volume_m3: None,
            walls: None,
            wall_centroid_m: None,
            rim_m: None,
            notices: Vec::new(),
            surfaces: vec![self.surface()],
            columns: self.columns().into(),
            outline,
        }
    }

    /// Its elements: weight, buoyancy, planing bottom, sides.
    pub fn craft(&self) -> Craft {
        let text = boat::template("vee", "Prism").expect("a template");
        let mut boat = boat::load(&text, "boat.toml").expect("sound").0;
        boat.drives.clear();
        boat.rudders.clear();
        boat.fins.clear();
        boat.wings.clear();
        let across = 0.4 * self.beam_m;
        let radii = Vector3::new(across, self.gyradius_m, self.gyradius_m);
        let inertia = radii.map(|k| self.mass_kg * k * k);
        let mass = MassProperties {
            mass_kg: self.mass_kg,
            mass_spread_kg: 0.0,
            cg_m: Vector3::new(self.lcg_m, 0.0, self.vcg_m),
            cg_spread_m: Vector3::zeros(),
            inertia_kg_m2: Matrix3::from_diagonal(&self.inertia_kg_m2.unwrap_or(inertia)),
            items: Vec::new(),
        };
        Craft::new(&boat, &self.form(), &mass, &Factors::default()).expect("a craft")
    }
}

/// Height of the centre of gravity, m, trim, rad, and their rates.
pub type Tow = [f64; 4];

/// A craft under the carriage.
pub struct Carriage<'a> {
    pub body: Body<'a>,
    pub speed_m_s: f64,
}

impl Carriage<'_> {
    pub fn new(craft: &Craft, speed_m_s: f64) -> Carriage<'_> {
        Carriage {
            body: Body::new(craft),
            speed_m_s,
        }
    }

    fn motion(&self, time_s: f64, y: &Tow) -> Motion {
        let attitude = rotation(0.0, y[1], 0.0);
        let cg = self.body.craft.cg_m();
        let rate = Vector3::new(0.0, -y[3], 0.0);
        let going = Vector3::new(self.speed_m_s, 0.0, y[2]);
        Motion {
            position_m: Vector3::new(self.speed_m_s * time_s, 0.0, y[0]) - attitude * cg,
            attitude,
            velocity_m_s: attitude.inverse_transform_vector(&going) - rate.cross(&cg),
            rate_rad_s: rate,
            time_s,
        }
    }

    /// Heave and pitch (bow up) accelerations.
    pub fn accelerations(&self, around: &Surroundings, time_s: f64, y: &Tow) -> [f64; 2] {
        let motion = self.motion(time_s, y);
        let (mass, force) = self.body.system(&motion, around, &Controls::default());
        // The centre of gravity's path in the world: a = R' [0, 0, heave] - w x v; turning about y only.
        let up = motion.up();
        let velocity = motion.velocity_at(&self.body.craft.cg_m());
        let across = motion.rate_rad_s.cross(&velocity);
        let mut heave = nalgebra::Vector6::zeros();
        heave.fixed_rows_mut::<3>(0).copy_from(&up);
        let mut pitch = nalgebra::Vector6::zeros();
        pitch[4] = -1.0;
        let mut held = nalgebra::Vector6::zeros();
        held.fixed_rows_mut::<3>(0).copy_from(&(-across));
        let left = force - mass * held;
        let row = |v: &nalgebra::Vector6<f64>| {
            (v.dot(&(mass * heave)), v.dot(&(mass * pitch)), v.dot(&left))
        };
        let ((a, b, f), (c, d, g)) = (row(&heave), row(&pitch));
        let whole = a * d - b * c;
        [(f * d - b * g) / whole, (a * g - c * f) / whole]
    }

    pub fn rates(&self, around: &Surroundings, time_s: f64, y: &Tow) -> Tow {
        let [heave, pitch] = self.accelerations(around, time_s, y);
        [y[2], y[3], heave, pitch]
    }

    /// Where it runs steadily, by Newton from a trim and wetted length.
    pub fn steady(&self, trim_rad: f64, keel_m: f64) -> Option<Tow> {
        let around = self.body.craft.surroundings();
        let cg = self.body.craft.cg_m();
        let rise = -keel_m * trim_rad.sin();
        let mut y = [
            rise + (rotation(0.0, trim_rad, 0.0) * cg).z,
            trim_rad,
            0.0,
            0.0,
        ];
        for _ in 0..60 {
            let here = self.accelerations(&around, 0.0, &y);
            if here[0].abs() < 1e-6 && here[1].abs() < 1e-5 {
                return Some(y);
            }
            let h = [1e-6, 1e-6];
            let mut slopes = [[0.0; 2]; 2];
            for j in 0..2 {
                let mut there = y;
                there[j] += h[j];
                let moved = self.accelerations(&around, 0.0, &there);
                for i in 0..2 {
                    slopes[i][j] = (moved[i] - here[i]) / h[j];
                }
            }
            let whole = slopes[0][0] * slopes[1][1] - slopes[0][1] * slopes[1][0];
            let dz = -(here[0] * slopes[1][1] - slopes[0][1] * here[1]) / whole;
            let dt = -(slopes[0][0] * here[1] - slopes[1][0] * here[0]) / whole;
            y[0] += dz.clamp(-0.003, 0.003);
            y[1] += dt.clamp(-0.01, 0.01);
            if !(0.002..0.5).contains(&y[1]) {
                return None;
            }
        }
        None
    }

    /// Growth and frequency of the least damped swing about a steady state, 1/s and rad/s.
    pub fn least_damped(&self, y: &Tow) -> (f64, f64) {
        let around = self.body.craft.surroundings();
        let h = [2e-5, 1e-4, 1e-3, 1e-2];
        let mut slopes = DMatrix::zeros(4, 4);
        for j in 0..4 {
            let moved = |by: f64| {
                let mut there = *y;
                there[j] += by;
                self.rates(&around, 0.0, &there)
            };
            let (up, down) = (moved(h[j]), moved(-h[j]));
            for i in 0..4 {
                slopes[(i, j)] = (up[i] - down[i]) / (2.0 * h[j]);
            }
        }
        let values = slopes.complex_eigenvalues();
        let most = values.iter().max_by(|a, b| a.re.total_cmp(&b.re));
        most.map_or((f64::NAN, 0.0), |v| (v.re, v.im.abs()))
    }
}
