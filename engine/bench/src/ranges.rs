//! Every range that a unit, a fault or a technician is drawn from, in one place.
//!
//! They were set before any trial was run. Each says where it is from; *common practice* is a rule of the trade with no
//! published source, *from memory* a figure not looked up again, *chosen* a spread that only has to be wide enough.

pub(crate) mod sound;

use crate::chance::Range;

const fn from(low: f64, high: f64) -> Range {
    Range { low, high }
}

/// The supply and its wiring.
pub(crate) mod supply {
    use super::{Range, from};

    /// Volts at the service on a 120 volt system: ANSI C84.1 Range A, from memory.
    pub(crate) const SERVICE_120: Range = from(114.0, 126.0);
    /// Volts between the legs on a 208 volt system: the same.
    pub(crate) const SERVICE_208: Range = from(197.0, 218.0);
    /// Volts between the legs on a 240 volt system: the same.
    pub(crate) const SERVICE_240: Range = from(228.0, 252.0);
    /// Ohms of transformer and service, both conductors: 10 to 50 kVA at 2 %, common practice.
    pub(crate) const SOURCE_OHMS: Range = from(0.02, 0.08);
    /// Feet of the branch circuit one way: chosen.
    pub(crate) const RUN_FEET: Range = from(15.0, 80.0);
    /// Amps of other loads on a circuit that is in order: chosen.
    pub(crate) const OTHER_AMPS: Range = from(0.0, 1.0);
    /// Share of disconnects with fuses: chosen.
    pub(crate) const FUSED: f64 = 0.2;
    /// Share of circuits with a ground-fault device: chosen.
    pub(crate) const GROUND_FAULT_DEVICE: f64 = 0.15;
    /// Milliamps at which a Class A device trips: UL 943 leaves 4 to 6 open.
    pub(crate) const GROUND_FAULT_TRIP: Range = from(4.5, 5.5);
    /// Share of the rating below which a breaker never trips by heat: UL 489 has it hold 100 %.
    pub(crate) const BREAKER_HOLDS: Range = from(1.05, 1.2);
    /// Minutes of a breaker's thermal time constant: with the above, UL 489's 200 % in 2 min and 135 % in 1 h hold.
    pub(crate) const BREAKER_MINUTES: Range = from(2.0, 4.0);
    /// Multiple of the rating at which a breaker trips at once: common practice.
    pub(crate) const BREAKER_INSTANT: Range = from(7.0, 10.0);
    /// Ohms of a sound switch contact or joint: common practice.
    pub(crate) const CONTACT_OHMS: Range = from(0.003, 0.02);
    /// Ohms of one sound line lead from board to plug: a yard of 16 or 18 AWG and its pins.
    pub(crate) const LEAD_OHMS: Range = from(0.01, 0.04);
    /// Share of the leg-to-leg volts that is left when a leg is lost and other loads feed back: chosen.
    pub(crate) const LOST_LEG_SHARE: Range = from(0.0, 0.5);
    /// Low supply: share of the lowest volts in order. Brown-outs and long runs, chosen.
    pub(crate) const LOW_SHARE: Range = from(0.70, 0.97);
    /// High supply: share of the highest volts in order. A lost neutral or a wrong tap, chosen.
    pub(crate) const HIGH_SHARE: Range = from(1.03, 1.18);
    /// A bad joint: share of the rated volts that it takes at rated current. Advice is at most 3 % for a branch.
    pub(crate) const BAD_JOINT_SHARE: Range = from(0.06, 0.35);
    /// An overloaded circuit: share of the breaker that flows in all.
    pub(crate) const OVERLOAD_SHARE: Range = from(1.25, 1.9);
    /// Milliamps of a leak elsewhere on a circuit.
    pub(crate) const STRAY_LEAK: Range = from(6.5, 60.0);
    /// Ohms of a pinched line lead to the case.
    pub(crate) const PINCH_OHMS: Range = from(0.1, 4.0);
}

/// The 24 volt side.
pub(crate) mod control {
    use super::{Range, from};

    /// Ratings of control transformers, VA: common practice; Class 2 allows 100.
    pub(crate) const VOLT_AMPERES: [f64; 3] = [40.0, 50.0, 75.0];
    /// Regulation from no load to full: common practice; with it a sound one reads 25 to 28 volts lightly loaded.
    pub(crate) const REGULATION: Range = from(0.06, 0.14);
    /// VA of board, relays and thermostat: common practice.
    pub(crate) const LOAD: Range = from(7.0, 18.0);
    /// Ratings of control fuses, A: common practice.
    pub(crate) const FUSES: [f64; 2] = [3.0, 5.0];
    /// Volts that a board needs to switch: relays are made for 85 % of 24, and most hold further down. Chosen.
    pub(crate) const BOARD_NEEDS: Range = from(15.0, 19.0);
    /// Volts that a motor takes for a call: common practice.
    pub(crate) const CALL_NEEDS: Range = from(9.0, 14.0);
    /// Feet of thermostat cable, one way: chosen. 18 AWG, NEC chapter 9 table 8.
    pub(crate) const CABLE_FEET: Range = from(20.0, 90.0);
    /// Ohms of a shorted control cable: below about 5, common practice.
    pub(crate) const SHORT_OHMS: Range = from(0.1, 3.5);
    /// Ohms of sound control wiring with everything off it: chosen.
    pub(crate) const SOUND_OHMS: Range = from(1e6, 3e7);
    /// Share of its volts that a failing transformer still gives; below the first figure drawn it is open.
    pub(crate) const FAILING_SHARE: Range = from(0.2, 0.6);
    /// Starts in an hour in order: three to six, common practice for a thermostat.
    pub(crate) const STARTS: Range = from(2.0, 6.0);
    /// Starts in an hour when it short-cycles.
    pub(crate) const SHORT_CYCLES: Range = from(14.0, 45.0);
}

/// The motor.
pub(crate) mod motor {
    use super::{Range, from};

    /// Efficiency at full load, electronics and all: small brushless motors, common practice.
    pub(crate) const EFFICIENCY: Range = from(0.70, 0.80);
    /// How much less than the plate's current it takes at full load: a plate is an upper figure.
    pub(crate) const UNDER_PLATE: Range = from(1.01, 1.08);
    /// Watts of the electronics alone.
    pub(crate) const STANDBY_WATTS: Range = from(2.0, 5.0);
    /// Torque of the low and the medium speed input, share of the high one: chosen.
    pub(crate) const LOW_TORQUE: Range = from(0.45, 0.55);
    /// See above.
    pub(crate) const MEDIUM_TORQUE: Range = from(0.70, 0.80);
    /// Turns a minute that it never passes: chosen.
    pub(crate) const TOP_SPEED: Range = from(1250.0, 1400.0);
    /// Volts of the inner dc rail below which it stops: 60 to 72 % of the 325 V it is made for. Chosen.
    pub(crate) const RAIL_LOW: Range = from(195.0, 235.0);
    /// Volts of the inner dc rail above which it stops itself, below what 400 and 450 V capacitors bear. Chosen.
    pub(crate) const RAIL_HIGH: Range = from(378.0, 410.0);
    /// Volts of the inner dc rail that destroy it.
    pub(crate) const RAIL_DESTROYS: f64 = 450.0;
    /// Turns a minute of the slow turn while it learns: the fan then takes a few watts, common practice.
    pub(crate) const LEARN_SPEED: Range = from(150.0, 240.0);
    /// Watts by which its feel for power may be out, either way: a small part of those. Chosen.
    pub(crate) const FEEL_WATTS: Range = from(0.05, 0.2);
    /// Degrees (K) over its surroundings at full rating, free air.
    pub(crate) const RISE_AT_RATING: Range = from(36.0, 50.0);
    /// °C at which its protection stops it: common practice for electronics.
    pub(crate) const TRIPS_AT: Range = from(100.0, 112.0);
    /// Minutes of its thermal time constant.
    pub(crate) const THERMAL_MINUTES: Range = from(14.0, 28.0);
    /// Joules that one start leaves in it: half a minute of ramp at two or three times the losses. Chosen.
    pub(crate) const START_JOULES: Range = from(4000.0, 10_000.0);
    /// How much worse it sheds its heat with the cooling air blocked.
    pub(crate) const BLOCKED: Range = from(1.9, 3.2);
    /// °C of the air at the motor, over the return air, in order.
    pub(crate) const SPACE_OVER_RETURN: Range = from(1.0, 6.0);
    /// °C of the air at the motor where hot air gets to it.
    pub(crate) const HOT_SPACE: Range = from(58.0, 75.0);
    /// MΩ to the case, in order: above 5, common practice.
    pub(crate) const INSULATION: Range = from(20.0, 1500.0);
    /// MΩ to the case, failed: under 1, common practice, down to half an ohm of solid ground. Drawn by its decades.
    pub(crate) const FAILED_INSULATION: Range = from(5e-7, 0.8);
    /// How often failed insulation or water has killed the electronics as well: chosen.
    pub(crate) const KILLED_AS_WELL: f64 = 0.5;
    /// MΩ to the case, wet. Drawn by its decades.
    pub(crate) const WET_INSULATION: Range = from(0.005, 0.9);
    /// Ω between the line pins of a sound motor, where its bridge lets a meter see the bleeder.
    pub(crate) const PIN_OHMS: Range = from(1.5e5, 1.5e6);
    /// Ω between the line pins of a shorted one.
    pub(crate) const SHORTED_OHMS: Range = from(0.1, 3.0);
    /// mA that its noise filter leaks when in order: 4.7 to 10 nF at 120 V are 0.2 to 0.45.
    pub(crate) const FILTER_LEAK: Range = from(0.2, 0.5);
    /// µF and kΩ of the rail and its bleeder: 340 V fall to 50 V within the 5 minutes on its label.
    pub(crate) const RAIL_MICROFARADS: Range = from(330.0, 680.0);
    /// See above.
    pub(crate) const BLEEDER_KILOHMS: Range = from(90.0, 200.0);
    /// Nm of sound bearings.
    pub(crate) const BEARING_TORQUE: Range = from(0.01, 0.04);
    /// A wheel that rubs: torque of it, share of the torque asked for.
    pub(crate) const RUB_TORQUE: Range = from(0.45, 2.5);
}

/// The wheel.
pub(crate) mod wheel {
    use super::{Range, from};

    /// Static pressure at no flow over ρu², forward-curved: 0.9 to 1.2 in fan handbooks, from memory.
    pub(crate) const PRESSURE: Range = from(1.0, 1.15);
    /// Best static efficiency, forward-curved in its housing: fan handbooks, from memory.
    pub(crate) const EFFICIENCY: Range = from(0.40, 0.52);
    /// Flow it is chosen at, share of free delivery: 40 to 55 %, fan handbooks, from memory.
    pub(crate) const CHOSEN_AT: Range = from(0.40, 0.52);
    /// Turned the wrong way: share of the pressure at no flow. Common practice gives 20 to 60 % of the flow.
    pub(crate) const BACKWARD_PRESSURE: Range = from(0.20, 0.40);
    /// Turned the wrong way: share of free delivery.
    pub(crate) const BACKWARD_FLOW: Range = from(0.35, 0.60);
    /// Turned the wrong way at the same speed: power, share of the right way's. Under half, common practice.
    pub(crate) const BACKWARD_POWER: Range = from(0.31, 0.47);
    /// Back to front and hollow-first, so against the housing: share of the pressure.
    pub(crate) const AGAINST_HOUSING_PRESSURE: Range = from(0.40, 0.60);
    /// The same: share of free delivery.
    pub(crate) const AGAINST_HOUSING_FLOW: Range = from(0.45, 0.65);
    /// The same: share of the power.
    pub(crate) const AGAINST_HOUSING_POWER: Range = from(0.65, 0.90);
    /// Backward-inclined: pressure over ρu².
    pub(crate) const LEANING_PRESSURE: Range = from(0.5, 0.62);
    /// Backward-inclined, best efficiency.
    pub(crate) const LEANING_EFFICIENCY: Range = from(0.58, 0.68);
    /// Backward-inclined, the other way round at the same speed: share of the power. No published figure; chosen.
    pub(crate) const LEANING_BACKWARD_POWER: Range = from(0.75, 1.2);
    /// A caked wheel: share of its pressure that is lost.
    pub(crate) const DIRT: Range = from(0.25, 0.6);
    /// A loose hub: torque it still takes along, share of the torque asked for.
    pub(crate) const LOOSE_HUB: Range = from(0.0005, 0.45);
}

/// Filter, coil, ducts.
pub(crate) mod air {
    use super::{Range, from};

    /// Tons of cooling.
    pub(crate) const TONS: [f64; 7] = [1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0];
    /// CFM for each ton, as designed: 350 to 450 about 400, the industry's convention.
    pub(crate) const FLOW_PER_TON: Range = from(375.0, 425.0);
    /// Feet above the sea, where it is not near sea level.
    pub(crate) const ELEVATION: Range = from(0.0, 7500.0);
    /// Share of places below 1,000 feet.
    pub(crate) const LOW_PLACES: f64 = 0.6;
    /// in. w.c. of external static as designed; the plate's limit is 0.5.
    pub(crate) const STATIC: Range = from(0.30, 0.44);
    /// in. w.c. that a plate permits: common practice.
    pub(crate) const STATIC_LIMIT: f64 = 0.5;
    /// in. w.c. inside the cabinet, and an air handler's own coil.
    pub(crate) const INSIDE: Range = from(0.20, 0.35);
    /// Share of the external static that a clean filter takes: under 30 %, common practice.
    pub(crate) const FILTER_SHARE: Range = from(0.16, 0.25);
    /// Share that a furnace's clean coil takes: under 40 %, common practice.
    pub(crate) const COIL_SHARE: Range = from(0.25, 0.35);
    /// Share of what the ducts take that the supply side takes.
    pub(crate) const SUPPLY_SHARE: Range = from(0.50, 0.62);
    /// Share of the flow that sound ducts leak.
    pub(crate) const LEAK: Range = from(0.02, 0.07);
    /// Share of the wanted flow below which people call: within 15 % is in order, ACCA 5, from memory.
    pub(crate) const CALL_BELOW: f64 = 0.85;
    /// Times the clean resistance: a loaded filter.
    pub(crate) const DIRTY_FILTER: Range = from(4.0, 25.0);
    /// Times the clean resistance: a clean filter of too fine a grade.
    pub(crate) const FINE_FILTER: Range = from(3.0, 8.0);
    /// Times the clean resistance: no filter.
    pub(crate) const NO_FILTER: f64 = 0.03;
    /// Times the clean resistance: a matted coil.
    pub(crate) const DIRTY_COIL: Range = from(3.0, 15.0);
    /// Times the clean resistance: an iced coil.
    pub(crate) const ICED_COIL: Range = from(6.0, 60.0);
    /// Times the resistance of the supply side: registers shut.
    pub(crate) const SHUT_REGISTERS: Range = from(3.0, 18.0);
    /// Times the resistance of the side that has a crushed duct.
    pub(crate) const CRUSHED: Range = from(4.0, 25.0);
    /// Times the resistance of a side that is built too small.
    pub(crate) const TOO_SMALL: Range = from(2.5, 9.0);
    /// Share of the flow lost where a duct leaks or is off.
    pub(crate) const LOST: Range = from(0.22, 0.6);
    /// Times the resistance of the return side when the panel is off.
    pub(crate) const PANEL_OFF: f64 = 0.05;
    /// °F of the return air.
    pub(crate) const RETURN_AIR: Range = from(66.0, 74.0);
    /// °F of the return air while it cools: the design indoors, ACCA Manual J, from memory.
    pub(crate) const COOLED_AIR: f64 = 75.0;
    /// °F from the return air to the coil at 400 CFM for each ton: 35, and 40 at 350. Common practice.
    pub(crate) const COIL_BELOW_AIR: f64 = 35.0;
}

/// The heater.
pub(crate) mod heater {
    use super::{Range, from};

    /// Efficiencies of gas and oil furnaces.
    pub(crate) const EFFICIENCY: [f64; 4] = [0.80, 0.84, 0.92, 0.95];
    /// °F of rise as designed, fuel: plates give 35 to 65 or 40 to 70, common practice.
    pub(crate) const FUEL_RISE: Range = from(48.0, 58.0);
    /// °F of rise as designed, elements.
    pub(crate) const ELEMENT_RISE: Range = from(26.0, 38.0);
    /// °F of rise as designed, heat pump.
    pub(crate) const HEAT_PUMP_RISE: Range = from(18.0, 26.0);
    /// °F from the middle of the plate's range to its ends.
    pub(crate) const RISE_REACH: f64 = 15.0;
    /// °F of the supply air above 70 °F and the highest rise permitted at which the limit opens.
    pub(crate) const LIMIT_OVER: Range = from(15.0, 35.0);
    /// Minutes of the heat exchanger's time constant.
    pub(crate) const MINUTES: Range = from(1.2, 2.5);
    /// A weak limit: °F below the air that it meets in order.
    pub(crate) const LIMIT_WEAK: Range = from(4.0, 35.0);
    /// Over-fired: share of the plate's input.
    pub(crate) const OVER_FIRED: Range = from(1.3, 1.7);
    /// Under-fired: share of the plate's input.
    pub(crate) const UNDER_FIRED: Range = from(0.45, 0.65);
    /// Minutes from fire to blower that a board waits, as on its sheet: 15 to 60 seconds, common practice.
    pub(crate) const DELAY: Range = from(0.25, 1.0);
    /// Minutes of one that is set, or has drifted, too long: timers of boards and relays give up to five. Chosen.
    pub(crate) const LONG_DELAY: Range = from(1.5, 5.0);
}

/// The plates and the mount.
pub(crate) mod plate {
    use super::{Range, from};

    /// Inches of a blower's air opening.
    pub(crate) const OPENING: Range = from(8.0, 10.5);
    /// Sizes of mounts, inches: common practice.
    pub(crate) const MOUNTS: [f64; 3] = [10.0, 11.0, 13.0];
    /// Inches by which a bolt circle that is too small passes the opening; it must be 1, common practice.
    pub(crate) const SMALL_MOUNT: Range = from(-0.5, 0.75);
    /// Minutes of stored charge on the motor's label.
    pub(crate) const CHARGE_MINUTES: f64 = 5.0;
}

/// The technician and the meter.
pub(crate) mod technician {
    use super::{Range, from};

    /// Share of the neighbouring volts that a high-impedance meter shows on an open wire: two runs of some hundred
    /// picofarads against 10 MΩ give about half; anything up to the neighbour's volts by NEMA Bulletin 88.
    pub(crate) const GHOST: Range = from(0.2, 0.7);
    /// The same of a low-impedance range: 3 kΩ take all but a thousandth.
    pub(crate) const GHOST_LOW: f64 = 0.001;
    /// Share of those who may work live.
    pub(crate) const LIVE_WORK: f64 = 0.35;
    /// Share of those whose meter has only a high impedance.
    pub(crate) const HIGH_IMPEDANCE: f64 = 0.3;
    /// How often a reading cannot be taken, each reading decided once for a call.
    pub(crate) const CANNOT_METER: f64 = 0.03;
    /// How often a look cannot be taken.
    pub(crate) const CANNOT_LOOK: f64 = 0.01;
    /// How often a plate or a paper is not there.
    pub(crate) const CANNOT_PLATE: f64 = 0.06;
    /// How often the two slow turns' watts were not noted.
    pub(crate) const CANNOT_LEARNING: f64 = 0.6;
    /// How often somebody licensed for gas is there.
    pub(crate) const LICENSED: f64 = 0.3;
    /// How often a new motor of the kind is at hand; else it is fetched, and fitted at a second visit. Chosen.
    pub(crate) const HAS_MOTOR: f64 = 0.5;
    /// How often an answer slips, for a careless technician; a careful one never slips.
    pub(crate) const SLIP: f64 = 0.01;
    /// How often a slip is noticed at once and put right.
    pub(crate) const NOTICES: f64 = 0.4;
    /// How often leads are enough only for the reading that is needed now.
    pub(crate) const FEW_LEADS: f64 = 0.15;
    /// Scatter between two readings by one meter, share of what its statement allows.
    pub(crate) const SCATTER: f64 = 0.15;
}

/// How faults are drawn.
pub(crate) mod fault {
    /// Share of calls with no fault at all.
    pub(crate) const NONE: f64 = 0.04;
    /// Share of calls with two faults.
    pub(crate) const PAIR: f64 = 0.15;
    /// Share of calls that are a check of a new motor, whatever is wrong.
    pub(crate) const START_UP: f64 = 0.08;
    /// Share of calls about a wrong link that come as a doubt about it.
    pub(crate) const LINK_IN_DOUBT: f64 = 0.4;
    /// How often somebody has switched off what kept tripping.
    pub(crate) const SWITCHED_OFF: f64 = 0.15;
    /// How many severities are tried, each worse than the last, until people would call.
    pub(crate) const TRIES: u32 = 6;
}

/// How often one thing is met and not another: all chosen, as no count of units in the field was found.
pub(crate) mod often {
    /// Either of two, as often.
    pub(crate) const EITHER: f64 = 0.5;
    /// A furnace and no air handler.
    pub(crate) const FURNACE: f64 = 0.6;
    /// Gas and no oil, of furnaces.
    pub(crate) const GAS: f64 = 0.88;
    /// Elements alone, of air handlers; then a heat pump; the rest has no heat.
    pub(crate) const ELEMENTS: f64 = 0.4;
    /// See above.
    pub(crate) const HEAT_PUMP: f64 = 0.4;
    /// 115 volts, of furnaces.
    pub(crate) const FURNACE_ON_115: f64 = 0.9;
    /// 115 volts, of air handlers without heat.
    pub(crate) const AIR_HANDLER_ON_115: f64 = 0.4;
    /// 208 volts, of what is on two legs.
    pub(crate) const ON_208: f64 = 0.3;
    /// A filter behind the panel.
    pub(crate) const FILTER_BEHIND_PANEL: f64 = 0.4;
    /// A motor new out of its box.
    pub(crate) const NEW_MOTOR: f64 = 0.7;
    /// A breaker of 15 amps, where it is enough.
    pub(crate) const SMALL_BREAKER: f64 = 0.7;
    /// A thermostat with batteries, where it makes no call: they are the likeliest reason.
    pub(crate) const BATTERIES_AT_FAULT: f64 = 0.7;
    /// A transformer that is open, of those that failed.
    pub(crate) const TRANSFORMER_OPEN: f64 = 0.7;
    /// A motor that never ran here, where the installer slipped.
    pub(crate) const NEVER_RAN: f64 = 0.8;
    /// Dead electronics that popped.
    pub(crate) const POPPED: f64 = 0.2;
    /// A relearn that was tried already.
    pub(crate) const RELEARN_TRIED: f64 = 0.6;
    /// A breaker found tripped, where one trips.
    pub(crate) const FOUND_TRIPPED: f64 = 0.6;
}
