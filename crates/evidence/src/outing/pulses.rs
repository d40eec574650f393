//! Servo pulses measured.

use super::analysis::Analysis;
use super::measured::{Condition, Doing, QuantityKind, RecordingKind, Statistic, Unit, Value};
use crate::pulses::capture::Capture;
use crate::pulses::report::{Report, report};

/// A capture measured; the report is `None` where it holds fewer than three pulses a servo would take.
pub fn pulses(file: &str, capture: &Capture) -> (Analysis, Option<Report>) {
    let mut a = Analysis::of(file, RecordingKind::Pulses);
    a.span_s = Some(capture.span_s);
    if capture.skipped_rows > 0 {
        a.remarks.push(format!(
            "{} rows are no numbers or go back in time, the first at row {}; they were passed over",
            capture.skipped_rows,
            capture.first_skipped_row.unwrap_or(0)
        ));
    }
    if capture.inverted {
        a.remarks
            .push("the pulses point down and were turned round".to_owned());
    }
    if capture.stopped_early {
        a.remarks.push(format!(
            "the capture holds more than {} pulses; those after {:.0} s were left out",
            capture.pulses.len(),
            capture.pulses.last().map_or(0.0, |p| p.rise_s)
        ));
    }
    let Some(r) = report(capture) else {
        a.says.push(format!(
            "{} pulses were found, fewer than three of them of a width a servo would take (0.4 to 2.6 ms): is this the signal wire, and the time in seconds?",
            capture.pulses.len()
        ));
        return (a, None);
    };
    a.says.clone_from(&r.verdict);
    let condition = Condition::of(Doing::Unknown);
    let from = a.source("pulses, half-way crossings");
    a.quantities.push(Value::new(
        QuantityKind::PulseWidth,
        r.width_s,
        Statistic::Steady,
        from.clone(),
        condition,
    ));
    a.quantities.push(Value::new(
        QuantityKind::FramePeriod,
        r.frame_s,
        Statistic::Steady,
        from,
        condition,
    ));
    if let Some(tau) = r.edge_constant_s {
        let from = a.source("pulses, edges");
        // The constant is no better known than part of a sample allows.
        let m = crate::Measured::new(tau, (0.3 * capture.interval_s).max(0.02 * tau));
        a.quantities.push(Value::new(
            QuantityKind::EdgeTimeConstant,
            m,
            Statistic::Steady,
            from,
            condition,
        ));
    }
    let widths = capture
        .pulses
        .iter()
        .map(|p| (p.rise_s, p.width_s, 0.0))
        .collect();
    a.trace("pulse width", Unit::Second, widths);
    (a, Some(r))
}
