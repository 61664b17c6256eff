//! The routines of power on paper: L, B, V, S, R, C, and the hold-offs H.

use super::Script;
use super::page::{Block, Section};
use super::text::INDENT;
use engine::rulebook::{FactId, PowerStepKind};

/// Writes the steps of one routine, numbered in order.
struct Routine {
    letter: char,
    blocks: Vec<Block>,
}

impl Routine {
    const fn new(letter: char) -> Self {
        Self { letter, blocks: Vec::new() }
    }

    fn next(&mut self, text: &str) -> &mut Block {
        let label = format!("{}{}", self.letter, self.blocks.len() + 1);
        let mut block = Block::numbered(label.clone());
        block.para(1, &format!("{label:<5}"), text);
        self.blocks.push(block);
        let last = self.blocks.len() - 1;
        &mut self.blocks[last]
    }
}

impl Script<'_> {
    /// A step with the words of the rules.
    fn step(&self, routine: &mut Routine, only: &str, kind: PowerStepKind) {
        let words = self.book.power().words(kind);
        let say = words
            .say
            .replace("{source}", "each supply of the unit in turn")
            .replace("{minutes}", "___")
            .replace("{station}", "the place of the reading")
            .replace("{readings}", "the readings wanted");
        let block = routine.next(&format!("{only}{say}"));
        for (number, act) in (1..).zip(&words.acts) {
            block.part(&format!("Act {number}"), act);
        }
        block.cautions(&words.cautions);
        block.part("How", &words.how);
    }

    pub(super) fn lock_out(&self) -> Section {
        use PowerStepKind as Kind;
        let mut section = Section::new("L: locking out and proving dead");
        let mut routine = Routine::new('L');
        let power = self.book.power();
        let mut head = Block::new();
        head.para(0, "", "To LOCKED OUT AND PROVED DEAD: in this order, whole, without a break.");
        section.blocks.push(head);
        let failed = self.numbers.ending(self.book.roles().cannot_prove_dead);
        let text = format!(
            "{}: count them all. {} Cannot be told: lock and test every switch that could feed the unit.",
            self.fact(power.sources),
            self.ask_words(power.sources)
        );
        routine.next(&text);
        let text = format!(
            "{}. {} Cannot be told: {} minutes.",
            self.fact(power.stored_charge),
            self.ask_words(power.stored_charge),
            power.longest_wait
        );
        let block = routine.next(&text);
        for given in &self.book.fact(power.stored_charge).given {
            let when: Vec<String> = given.when.iter().map(|when| self.value(when)).collect();
            let is = super::words::shown(self.book.fact(power.stored_charge), &given.is);
            block.text(&format!("Where {}: {is}.", when.join(" and ")));
        }
        self.step(&mut routine, "", Kind::SwitchOffAndLock);
        self.step(&mut routine, "The minutes of L2: ", Kind::WaitOutCharge);
        self.step(&mut routine, "Only if the panel is on: ", Kind::TakePanelOff);
        self.step(&mut routine, "", Kind::ProveTester);
        self.step(&mut routine, "", Kind::TestDead);
        self.step(&mut routine, "", Kind::ProveTesterAgain);
        routine.next(&format!(
            "Was L3 to L8 done whole, in order, and all of it dead? Write DEAD. If a step could not be done, or \
             anything was not dead: write UNKNOWN. The call ends in {failed}."
        ));
        let next = "Are test leads out? Take them off now, by S6, before anything else. Then back to where you \
                    came from.";
        routine.next(next);
        section.blocks.extend(routine.blocks);
        section
    }

    /// What to say for a fact that a routine is planned on.
    fn ask_words(&self, fact: FactId) -> String {
        let written = self.numbers.written(fact).unwrap_or_default();
        let say = self.book.fact(fact).asking.as_ref().map(|asking| format!(" say \"{}\"", asking.say));
        format!("If {written} is blank{}", say.map_or_else(String::new, |say| format!(",{say}")))
    }

    pub(super) fn behind_the_panel(&self) -> Section {
        let mut section = Section::new("B, V, S: reading live behind the panel");
        section.blocks.extend(self.which_way());
        section.blocks.extend(self.live_work());
        section.blocks.extend(self.staging());
        section
    }

    fn which_way(&self) -> Vec<Block> {
        let (live_work, yes) = self.book.power().live_work;
        let fact = self.book.fact(live_work);
        let mut routine = Routine::new('B');
        let yes = crate::wording::choices(fact, yes, " / ");
        routine.next(&format!("{}. {}", self.fact(live_work), self.ask_words(live_work)));
        routine.next(&format!("Is it {yes}? Go to V1. Anything else, or cannot be told? Go to S1."));
        routine.blocks
    }

    fn live_work(&self) -> Vec<Block> {
        use PowerStepKind as Kind;
        let mut routine = Routine::new('V');
        // A reset is made with the panel on: never on the way to live work.
        routine.next(&format!(
            "{} Do they let something tripped be reset? Go to R1 first, come back here.",
            Self::hold_off_words("V")
        ));
        self.step(
            &mut routine,
            "Only if you come here not locked out, and V3 or V4 is still to be done: ",
            Kind::SwitchOff,
        );
        self.step(&mut routine, "Only if the panel is on: ", Kind::TakePanelOff);
        self.step(
            &mut routine,
            "Not for a reading ahead of the panel switch, and only once: ",
            Kind::DefeatInterlock,
        );
        self.step(&mut routine, "", Kind::ToolsClear);
        self.step(&mut routine, "", Kind::WarnPeople);
        self.step(&mut routine, "", Kind::RestorePower);
        routine.next(
            "Write LIVE INSIDE, and whether the interlock is defeated: only then is a reading behind the panel \
             switch ready. Back to the question. If a step cannot be done: leave the supply off, write \
             UNKNOWN, and take the last line of the question, cannot be told or taken.",
        );
        routine.blocks
    }

    fn staging(&self) -> Vec<Block> {
        use PowerStepKind as Kind;
        let mut routine = Routine::new('S');
        routine.next(
            "What it is read on, a lead or a clamp, is out for this reading already? Go to R1 if the unit is not LIVE PANEL ON, then read it \
             from outside. Else S2.",
        );
        routine.next("Not DEAD now? Go to L1, come back.");
        self.step(&mut routine, "", Kind::FitLeads);
        let block = routine.next(
            "Fit for every reading of that place that is still blank, as far as there are leads; a clamp or a \
             wattmeter only where it is wanted soon. Write on the record where they are. If none can be fitted: take the last line of the question, cannot be told \
             or taken.",
        );
        for (at, station) in self.book.power().stations.iter().enumerate() {
            let here = self.numbers.record.iter().copied().filter(|fact| {
                let rule = self.book.fact(*fact);
                rule.can_be_led_out() && rule.station.is_some_and(|station| station.index() == at)
            });
            let here: Vec<String> = here.map(|fact| self.fact(fact)).collect();
            if !here.is_empty() {
                block.para(INDENT, &format!("{}: ", station.name), &here.join(", "));
            }
        }
        routine.next("Go to R1, then back to the question, and read from outside with the panel on.");
        self.step(&mut routine, "When leads are out and the unit is DEAD again: ", Kind::TakeLeadsOff);
        routine.blocks
    }

    pub(super) fn restoring(&self) -> Section {
        use PowerStepKind as Kind;
        let mut section = Section::new("R: bringing power back; C: closing up");
        let mut routine = Routine::new('R');
        routine.next(&Self::hold_off_words("R"));
        self.step(
            &mut routine,
            "Only if you come here not locked out, and R3 or R5 is to be done: ",
            Kind::SwitchOff,
        );
        self.step(&mut routine, "Only if the interlock is defeated: ", Kind::RestoreInterlock);
        self.step(
            &mut routine,
            "Only if you come here locked out, or the panel is not known to be on: ",
            Kind::ToolsClear,
        );
        self.step(&mut routine, "Only if the panel is not on: ", Kind::PutPanelOn);
        self.step(&mut routine, "", Kind::WarnPeople);
        self.step(&mut routine, "Only if the hold-offs say so: ", Kind::ResetTrippedDevice);
        self.step(&mut routine, "", Kind::RestorePower);
        routine.next(
            "Only if R7 was done: ask anew for what was crossed out there, and write it down. Is it as before? Then \
             its hold-off stands, and it is not reset again: leave the supply off, write UNKNOWN, and take the last \
             line of the question, cannot be told or taken. Is it otherwise? Go to R10, and then begin again at \
             question 1, with the record as it stands.",
        );
        routine.next(
            "Write LIVE PANEL ON. Back to where you came from. If a step cannot be done: leave the supply off, \
             write UNKNOWN, and take the last line of the question, cannot be told or taken.",
        );
        section.blocks.extend(routine.blocks);
        section.blocks.extend(self.closing_up());
        section
    }

    fn hold_off_words(routine: &str) -> String {
        format!(
            "Go through the page of hold-offs, H1 first. If one stands, {routine} ends here and power stays \
             off: take the last line of the question, cannot be told or taken; after a repair go to A3. From \
             {routine}2 on the unit is \
             not DEAD any more: write UNKNOWN."
        )
    }

    fn closing_up(&self) -> Vec<Block> {
        use PowerStepKind as Kind;
        let mut routine = Routine::new('C');
        routine.next("Before any call is closed. Leads still out? Go to L1, and take them off by S6.");
        self.step(&mut routine, "Only if the interlock is defeated and the unit not DEAD: ", Kind::SwitchOff);
        self.step(&mut routine, "Only if the interlock is defeated: ", Kind::RestoreInterlock);
        self.step(&mut routine, "Only if the interlock was defeated: ", Kind::ToolsClear);
        self.step(&mut routine, "Only if the interlock was defeated: ", Kind::PutPanelOn);
        routine.next(
            "Write down what was found, read, done and proved, and what was not. Say how the unit is left: \
             power, panel, locks. The call is closed.",
        );
        routine.blocks
    }

    pub(super) fn hold_offs(&self) -> Section {
        let mut section = Section::new("H: what holds power off");
        let mut head = Block::new();
        head.para(
            0,
            "",
            "Before power comes back, go through all of these. One that stands is never argued away. A value \
             that is crossed out counts here until it has been read again, locked out and proved dead: read it \
             again now, by L1 if it is not DEAD. Where Until names tests, it is the tests that count.",
        );
        section.blocks.push(head);
        let mut routine = Routine::new('H');
        for rule in &self.book.power().hold_offs {
            let any = rule.when.iter().map(|wanted| self.condition(wanted)).collect::<Vec<_>>().join(", or ");
            let block = routine.next(&format!("Stands on {any}"));
            block.part("Why", &rule.because);
            if rule.until.is_empty() {
                block.part("Until", "it was mended, read again, and found otherwise.");
            } else {
                let tests: Vec<String> = rule.until.iter().map(|wanted| self.condition(wanted)).collect();
                block.part(
                    "Until",
                    &format!(
                        "these were read, locked out and proved dead, are not crossed out, and are all in \
                         order: {}. Then it does not stand. What tripped is reset by R7, once only, \
                         crossed out then, and read anew by R9. If it is found so again, it stands.",
                        tests.join("; ")
                    ),
                );
            }
        }
        section.blocks.extend(routine.blocks);
        section
    }
}
