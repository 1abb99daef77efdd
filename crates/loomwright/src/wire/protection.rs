//! The protection of the DC side as others read it.

use plan::design::branch::Branch;
use plan::design::circuits::Circuit;
use plan::design::coordinate::{Coordination, Rise};
use plan::design::protect::{Fault, Protected, TOUCH_V};
use schemars::JsonSchema;
use serde::Serialize;

#[derive(Serialize, JsonSchema)]
pub(super) struct ProtectionWire {
    run: String,
    fuse: Option<String>,
    fuse_carries_a: Option<f64>,
    fuse_ambient_factor: Option<f64>,
    current_a: Option<f64>,
    /// Short circuit right behind the fuse.
    fault_near: Option<FaultWire>,
    /// Short circuit at the far end of the run.
    fault: Option<FaultWire>,
    cable_withstand_a2s: Option<f64>,
    precharge: Option<PrechargeWire>,
    discharge_s: Option<f64>,
    discharge: Option<DischargeWire>,
    isolation_ohm: Option<f64>,
    /// Circuits and the least insulation of each to the chassis.
    circuits: Vec<CircuitWire>,
    y_energy_j: Option<f64>,
    /// Fuse, cable, fault and load laid over each other.
    coordination: Option<CoordinationWire>,
    contactor: ContactorWire,
    /// Further fused circuits.
    branches: Vec<BranchWire>,
}

#[derive(Serialize, JsonSchema)]
struct FaultWire {
    resistance_ohm: f64,
    inductance_h: f64,
    prospective_a: f64,
    time_constant_s: f64,
}

#[derive(Serialize, JsonSchema)]
struct PrechargeWire {
    resistance_ohm: f64,
    capacitance_f: f64,
    /// What it is charged from.
    voltage_v: f64,
    energy_j: f64,
    peak_w: f64,
    peak_a: f64,
    time_constant_s: f64,
    close_s: f64,
    left_v: f64,
    /// Of what is left, what stands for ever beside the discharge resistor.
    standing_v: f64,
    /// Seconds and volts.
    curve: Vec<(f64, f64)>,
}

#[derive(Serialize, JsonSchema)]
struct DischargeWire {
    resistance_ohm: f64,
    time_constant_s: f64,
    /// Heat in the resistor for as long as the pack is on.
    power_w: f64,
    /// Voltage that what is discharged may keep.
    touch_v: f64,
    /// Seconds and volts.
    curve: Vec<(f64, f64)>,
}

#[derive(Serialize, JsonSchema)]
struct CircuitWire {
    name: &'static str,
    ohm_per_v: f64,
    least_ohm: f64,
    /// Whether it is the limit of the whole, everything joined.
    governs: bool,
}

/// Curves over each other; each point is amperes and seconds.
#[derive(Serialize, JsonSchema)]
struct CoordinationWire {
    fuse: String,
    rated_a: f64,
    /// The fuse's mean melting curve.
    melts: Vec<(f64, f64)>,
    /// When the slowest fuse of its class has cleared.
    clears: Vec<(f64, f64)>,
    /// How long the cable bears a current; empty where its rating is not known.
    cable_bears: Vec<(f64, f64)>,
    /// Short circuits, the greatest first.
    faults: Vec<RiseWire>,
    /// What the circuit carries, shortest first.
    loads: Vec<LoadWire>,
    trip_a: Option<f64>,
    trip_s: Option<f64>,
    /// The control as a line from above down to its time, then level to where the fuse is the faster.
    trip: Vec<(f64, f64)>,
    /// From this current on the fuse protects the cable.
    guards_from_a: Option<f64>,
    /// The fault at which the fuse is least ahead of the cable.
    tightest: Option<TightestWire>,
}

#[derive(Serialize, JsonSchema)]
struct RiseWire {
    place: &'static str,
    prospective_a: f64,
    /// Amperes and seconds.
    points: Vec<(f64, f64)>,
    /// Amperes reached when the fuse melts.
    let_through_a: Option<f64>,
    melts_s: Option<f64>,
}

#[derive(Serialize, JsonSchema)]
struct LoadWire {
    seconds: f64,
    rms_a: f64,
    /// What the fuse bears so long, again and again, where it sits.
    may_a: Option<f64>,
    /// Where in the duty it was found.
    stretch: Option<String>,
}

#[derive(Serialize, JsonSchema)]
struct TightestWire {
    current_a: f64,
    /// None: it may never clear.
    clears_s: Option<f64>,
    /// None: for ever.
    bears_s: Option<f64>,
}

#[derive(Serialize, JsonSchema)]
struct ContactorWire {
    /// The one named.
    part: Option<String>,
    /// Greatest current it has to open against.
    must_break_a: Option<f64>,
    /// Current it closes on.
    must_make_a: Option<f64>,
    breaks_a: Option<f64>,
    makes_a: Option<f64>,
}

#[derive(Serialize, JsonSchema)]
struct BranchWire {
    name: String,
    fuse: Option<String>,
    fuse_carries_a: Option<f64>,
    cable: Option<String>,
    cable_rating_a: Option<f64>,
    cable_withstand_a2s: Option<f64>,
    coordination: Option<CoordinationWire>,
}

pub(super) fn protection(p: &Protected) -> ProtectionWire {
    ProtectionWire {
        run: p.run.clone(),
        fuse: p.fuse.as_ref().map(|f| f.row.id.clone()),
        fuse_carries_a: p.fuse_carries_a,
        fuse_ambient_factor: p.fuse_ambient_factor,
        current_a: p.current_a,
        fault_near: p.fault_near.as_ref().map(fault),
        fault: p.fault.as_ref().map(fault),
        cable_withstand_a2s: p.cable_withstand_a2s,
        precharge: p.precharge.as_ref().map(|c| PrechargeWire {
            resistance_ohm: c.resistance_ohm,
            capacitance_f: c.capacitance_f,
            voltage_v: c.voltage_v,
            energy_j: c.energy_j,
            peak_w: c.peak_w,
            peak_a: c.peak_a,
            time_constant_s: c.time_constant_s,
            close_s: c.close_s,
            left_v: c.left_v,
            standing_v: c.standing_v,
            curve: c.curve.clone(),
        }),
        discharge_s: p.discharge_s,
        discharge: p.discharge.as_ref().map(|d| DischargeWire {
            resistance_ohm: d.resistance_ohm,
            time_constant_s: d.time_constant_s,
            power_w: d.power_w,
            touch_v: TOUCH_V,
            curve: d.curve.clone(),
        }),
        isolation_ohm: p.isolation_ohm,
        circuits: p.circuits.iter().map(circuit).collect(),
        y_energy_j: p.y_energy_j,
        coordination: p.coordination.as_ref().map(coordination),
        contactor: ContactorWire {
            part: p.contactor.as_ref().map(|c| c.row.id.clone()),
            must_break_a: p.contactor_asked.breaks_a,
            must_make_a: p.contactor_asked.closes_a,
            breaks_a: p.contactor.as_ref().map(|c| c.breaks_a),
            makes_a: p.contactor.as_ref().map(|c| c.makes_a),
        },
        branches: p.branches.iter().map(branch).collect(),
    }
}

fn fault(f: &Fault) -> FaultWire {
    FaultWire {
        resistance_ohm: f.resistance_ohm,
        inductance_h: f.inductance_h,
        prospective_a: f.prospective_a,
        time_constant_s: f.time_constant_s,
    }
}

fn circuit(c: &Circuit) -> CircuitWire {
    CircuitWire {
        name: c.name,
        ohm_per_v: c.ohm_per_v,
        least_ohm: c.least_ohm,
        governs: c.governs,
    }
}

fn coordination(c: &Coordination) -> CoordinationWire {
    let tightest = c.guard.as_ref().and_then(|g| g.tightest);
    CoordinationWire {
        fuse: c.fuse.clone(),
        rated_a: c.rated_a,
        melts: c.melts.clone(),
        clears: c.clears.clone(),
        cable_bears: c.bears.clone(),
        faults: c.faults.iter().map(rise).collect(),
        loads: c
            .loads
            .iter()
            .map(|l| LoadWire {
                seconds: l.seconds,
                rms_a: l.rms_a,
                may_a: l.may_a,
                stretch: l.stretch.clone(),
            })
            .collect(),
        trip_a: c.trip.map(|t| t.current_a),
        trip_s: c.trip.map(|t| t.seconds),
        trip: c.trip_line(),
        guards_from_a: c.guard.as_ref().and_then(|g| g.from_a),
        tightest: tightest.map(|t| TightestWire {
            current_a: t.current_a,
            clears_s: t.clears_s,
            bears_s: t.bears_s,
        }),
    }
}

fn rise(r: &Rise) -> RiseWire {
    RiseWire {
        place: r.place,
        prospective_a: r.prospective_a,
        points: r.points.clone(),
        let_through_a: r.melts.map(|m| m.0),
        melts_s: r.melts.map(|m| m.1),
    }
}

fn branch(b: &Branch) -> BranchWire {
    BranchWire {
        name: b.name.clone(),
        fuse: b.fuse.as_ref().map(|f| f.row.id.clone()),
        fuse_carries_a: b.fuse_carries_a,
        cable: b.cable.clone(),
        cable_rating_a: b.asked.cable_rating_a,
        cable_withstand_a2s: b.asked.cable_withstand_a2s,
        coordination: b.coordination.as_ref().map(coordination),
    }
}
