//! A controller's or motion log: what its columns hold, agreed to and remembered.

use evidence::columns::{Mapping, Quantity};
use evidence::outing::log::log;
use evidence::outing::recording::mapping_for;
use evidence::outing::{Analysis, RecordingKind};
use evidence::table::Table;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

use super::{LOGGERS, Loggers, RPM, fault, file_name, home_of, mappings, settings_near};
use crate::bench::Bench;
use crate::beneath::open;
use crate::fault::Fault;
use crate::folder::write_whole;
use crate::question::Question;
use crate::writing::one_writer;

/// What does a log tell, and what do its columns hold?
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct LogAsk {
    /// The log.
    #[schema(value_type = String)]
    pub file: PathBuf,
    /// Columns that are read otherwise than proposed.
    #[schema(max_items = 200)]
    pub columns: Vec<ColumnRead>,
    /// Remember this reading for the same logger.
    pub confirm: bool,
    /// Shaft speed at full throttle known from elsewhere, such as sound, rad/s.
    pub shaft_rad_s: Option<f64>,
}

/// A column and what it holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ColumnRead {
    /// As in the file, without its unit.
    #[schema(max_length = 200)]
    pub heading: String,
    /// What it holds; nothing leaves the column alone.
    #[serde(default)]
    pub quantity: Option<Quantity>,
    /// `degF`, `km/h`, `mA`; what the heading says unless given.
    #[serde(default)]
    #[schema(max_length = 40)]
    pub unit: Option<String>,
}

/// What a log told.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LogAnswer {
    /// As every recording is told.
    #[serde(flatten)]
    pub analysis: Analysis,
    /// How its columns are read.
    pub mapping: Mapping,
    /// What does not fit together.
    pub doubts: Vec<String>,
    /// How many.
    pub rows: usize,
    /// Between columns.
    pub separator: String,
    /// Whether numbers have a comma.
    pub decimal_comma: bool,
    /// File in which the reading is remembered.
    pub remembered: Option<String>,
}

impl Question for LogAsk {
    type Answer = LogAnswer;

    fn answer(&self, bench: &Bench) -> Result<LogAnswer, Fault> {
        let mut settings = settings_near(bench, &self.file)?;
        if let Some(speed_rad_s) = self.shaft_rad_s {
            settings.log.known.shaft_rpm = Some(speed_rad_s * RPM);
        }
        let table = Table::read(open(&self.file)?)
            .map_err(|e| fault(&self.file, RecordingKind::Log, &e))?;
        let mut mapping = mapping_for(&table, &settings);
        for column in &self.columns {
            let read = column.quantity.map(|q| (q, column.unit.as_deref()));
            mapping.assign(&table, &column.heading, read).map_err(|e| {
                let hint = "headings are as in the file, without their unit";
                Fault::new(e.to_string(), hint)
            })?;
        }
        let mut remembered = None;
        if self.confirm {
            mapping.confirmed = true;
            let beside = || self.file.parent().map_or_else(PathBuf::new, Path::to_owned);
            let home = home_of(bench, &self.file).unwrap_or_else(beside);
            remembered = Some(remember(&home, &mapping)?.display().to_string());
        }
        let (analysis, doubts) = log(&file_name(&self.file), &table, &mapping, &settings.log);
        Ok(LogAnswer {
            analysis,
            mapping,
            doubts: doubts.iter().map(ToString::to_string).collect(),
            rows: table.len(),
            separator: table.separator.to_string(),
            decimal_comma: table.decimal_comma,
            remembered,
        })
    }

    fn files(&self) -> Vec<&Path> {
        vec![&self.file]
    }

    fn writes(&self) -> bool {
        self.confirm
    }
}

/// Adds or replaces the reading of one logger; the others stay.
fn remember(home: &Path, mapping: &Mapping) -> Result<PathBuf, Fault> {
    let _one = one_writer(home)?;
    let mut loggers = mappings(Some(home))?;
    loggers.retain(|m| m.fingerprint != mapping.fingerprint);
    loggers.push(mapping.clone());
    let file = home.join(LOGGERS);
    let text = serde_json::to_string_pretty(&Loggers { format: 1, loggers })
        .map_err(|e| Fault::of_file(&file, &e, ""))?;
    write_whole(&file, format!("{text}\n").as_bytes())?;
    Ok(file)
}
