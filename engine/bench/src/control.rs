//! The 24 volt side: transformer, fuse, wiring, thermostat, board, and the leads that carry a call to the motor.

/// Primary taps, by the volts marked on them.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Tap {
    V120,
    V208,
    V240,
}

impl Tap {
    /// Volts that make 24 of it.
    pub(crate) const fn volts(self) -> f64 {
        match self {
            Self::V120 => 120.0,
            Self::V208 => 208.0,
            Self::V240 => 240.0,
        }
    }
}

/// What is called for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum CallFor {
    Nothing,
    Fan,
    Heat,
    Cool,
}

/// The control transformer.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Transformer {
    pub(crate) volt_amperes: f64,
    pub(crate) tap: Tap,
    /// Drop from no load to full load, share.
    pub(crate) regulation: f64,
    /// Share of its volts that it still makes: 1 in order, 0 open.
    pub(crate) makes: f64,
    /// Times that it hums louder than one that sits tight.
    pub(crate) loose: f64,
}

impl Transformer {
    /// Secondary volts at a primary voltage and a load in VA at 24 volts.
    ///
    /// 24 volts at full load on the tap's own volts; the drop is taken as resistance.
    pub(crate) fn secondary(&self, primary: f64, load: f64) -> f64 {
        let ratio = primary / self.tap.volts();
        let open = 24.0 * (1.0 + self.regulation) * ratio;
        let drop = 24.0 * self.regulation * ratio * (load / self.volt_amperes);
        (open - drop).max(0.0) * self.makes
    }

    /// Amps in the primary: the load through the ratio, and a magnetising share. Sizes only, never a finding.
    pub(crate) fn primary_amps(&self, primary: f64, load: f64) -> f64 {
        if primary <= 0.0 { 0.0 } else { (load + 0.1 * self.volt_amperes) / primary.max(1.0) }
    }
}

/// The thermostat.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Thermostat {
    /// Whether it makes the call that it is set to: its batteries and its settings are in order.
    pub(crate) makes_calls: bool,
    /// What it shows of that: what it calls for.
    pub(crate) set_to: CallFor,
    /// Whether its screen lives on batteries of its own.
    pub(crate) batteries: bool,
    /// Starts in an hour.
    pub(crate) starts: f64,
}

/// Where the motor's speed lead ends.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum SpeedLead {
    OnCall,
    Wrong,
    Nowhere,
}

/// Where the call breaks between thermostat and motor.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum CallWire {
    Whole,
    OpenToBoard,
    OpenToMotor,
    /// It makes and breaks, from second to second: a meter sees it whole as often as not.
    Flaps,
}

/// The 24 volt side of one unit.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Control {
    pub(crate) transformer: Transformer,
    pub(crate) fuse_amps: f64,
    pub(crate) fuse_blown: bool,
    /// Lowest resistance between two wires with everything off them.
    pub(crate) wiring_ohms: f64,
    pub(crate) load: f64,
    pub(crate) thermostat: Thermostat,
    pub(crate) call_wire: CallWire,
    /// Ohms of the call's wire, whole.
    pub(crate) call_ohms: f64,
    pub(crate) speed_lead: SpeedLead,
    /// Whether the board's relay puts line volts on the rating lead.
    pub(crate) relay_works: bool,
    pub(crate) board_needs: f64,
    /// Minutes from fire to blower.
    pub(crate) delay: f64,
    /// The same as on the unit's sheet.
    pub(crate) delay_built: f64,
    /// Whether a rating lead is connected.
    pub(crate) rating_lead_on: bool,
    pub(crate) rating_lead_ohms: f64,
}

impl Control {
    /// Volts from R to C at a primary voltage.
    pub(crate) fn volts(&self, primary: f64) -> f64 {
        if self.fuse_blown { 0.0 } else { self.transformer.secondary(primary, self.load) }
    }

    /// Whether the wiring would blow the fuse: more flows than it is rated for.
    pub(crate) fn blows_fuse(&self, primary: f64) -> bool {
        let open = self.transformer.secondary(primary, 0.0);
        // What the winding itself holds back: regulation times 24² over its VA.
        let winding = self.transformer.regulation * 24.0 * 24.0 / self.transformer.volt_amperes;
        !self.fuse_blown && open / (self.wiring_ohms + winding) > self.fuse_amps
    }

    /// Volts at the board's terminal of the call.
    pub(crate) fn call_at_board(&self, primary: f64, wanted: CallFor) -> f64 {
        let calls = wanted != CallFor::Nothing && self.thermostat.makes_calls;
        if calls && self.call_wire != CallWire::OpenToBoard { self.volts(primary) } else { 0.0 }
    }

    /// Volts at the motor's speed input. The input itself takes a few milliamps.
    pub(crate) fn call_at_motor(&self, primary: f64, wanted: CallFor) -> f64 {
        let whole = matches!(self.call_wire, CallWire::Whole | CallWire::Flaps);
        let reaches = whole && self.speed_lead == SpeedLead::OnCall;
        if reaches { (self.call_at_board(primary, wanted) - 0.01 * self.call_ohms).max(0.0) } else { 0.0 }
    }

    /// Whether the board puts line volts on the rating lead for a call.
    pub(crate) fn switches(&self, primary: f64, wanted: CallFor) -> bool {
        self.relay_works && self.call_at_board(primary, wanted) >= self.board_needs
    }

    /// Whether the thermostat's screen is lit, at a primary voltage.
    pub(crate) fn screen_is_lit(&self, primary: f64) -> bool {
        self.thermostat.batteries || self.volts(primary) >= 12.0
    }
}
