//! Facts that are worked out of others, each by a formula of the engine.

use super::{At, Resolver, all};
use crate::finding::{Code, Said, did_you_mean};
use crate::formula::{FORMULAS, Formula, Input};
use crate::parsed::catalogue::{ComputedDoc, WorkingDoc};
use crate::quantity::{Dimension, Expected, Meter};
use crate::rulebook::{ChoiceSet, Fact, FactId, Kind, Lasts, PanelNeed, PowerNeed, Working};

impl Resolver<'_> {
    /// Facts that are only ever worked out, by themselves.
    pub(super) fn computed_facts(&mut self) {
        let parsed = self.parsed;
        for doc in &parsed.workings {
            let top = At::top(&doc.gated);
            let list = top.key("workings");
            for (id, computed) in &doc.body.workings {
                if self.fact_names.position(id) != Some(self.facts.len()) {
                    continue;
                }
                let fact = self.computed(id, computed, &list.key(id));
                self.facts.push(fact);
            }
        }
    }

    fn computed(&mut self, id: &str, doc: &ComputedDoc, at: &At<'_>) -> Result<Fact, Said> {
        let dimension = self.measures(&doc.measures, at)?;
        let unit = self.unit(doc.unit.as_deref(), dimension, at)?;
        Ok(Fact {
            id: id.to_owned(),
            name: doc.name.clone(),
            asking: None,
            kind: Kind::Quantity { expected: Expected::new(unit), meter: Meter::EXACT },
            power: PowerNeed::Any,
            panel: PanelNeed::Any,
            station: None,
            ahead_of_interlock: false,
            live_work: false,
            lasts: Lasts::UntilTouched,
            minutes: 0.0,
            waits: Vec::new(),
            live_until_told: ChoiceSet::default(),
            yes_means: None,
            tools: Vec::new(),
            cautions: Vec::new(),
            cautions_when: Vec::new(),
            cannot_means: None,
            may_be_missing: false,
            feeds: None,
            given: Vec::new(),
            working: None,
        })
    }

    /// What every working goes by, once all facts have their kinds.
    pub(super) fn workings(&mut self) {
        let parsed = self.parsed;
        for doc in &parsed.workings {
            let top = At::top(&doc.gated);
            let list = top.key("workings");
            for (id, computed) in &doc.body.workings {
                let _ = self.works_out(id, &computed.by, &computed.of, &list.key(id));
            }
        }
        for doc in &parsed.readings {
            let top = At::top(&doc.gated);
            let list = top.key("readings");
            for (id, reading) in &doc.body.readings {
                if let Some(WorkingDoc { by, of }) = &reading.or_else {
                    let at = list.key(id);
                    let _ = self.works_out(id, by, of, &at.key("or else"));
                }
            }
        }
    }

    fn works_out(&mut self, id: &str, by: &str, of: &[String], at: &At<'_>) -> Result<(), Said> {
        let own = self.own_id(id, at)?;
        let formula = self.formula(by, &at.key("by"))?;
        let of_at = at.key("of");
        let inputs = all(of.iter().enumerate().map(|(index, name)| self.fact_id(name, &of_at.index(index))))?;
        let gives = self.gives(formula, &inputs, &of_at)?;
        let measures = self.dimension(own)?;
        if measures != Some(gives) {
            let wanted = measures.map_or("choices", Dimension::plain);
            let title = format!("`{id}` is {wanted}, and `{by}` gives {}", gives.plain());
            return Err(self.say(
                at.key("by").draft(Code::WrongQuantity, title).help("mend what it measures, or its formula"),
            ));
        }
        self.edit(own, |fact| fact.working = Some(Working { formula, of: inputs }));
        Ok(())
    }

    fn formula(&mut self, name: &str, at: &At<'_>) -> Result<&'static Formula, Said> {
        Formula::by_name(name).ok_or_else(|| {
            let names: Vec<&str> = FORMULAS.iter().map(|formula| formula.name()).collect();
            let draft = at.draft(Code::UnknownId, format!("unknown formula `{name}`"));
            self.say(match did_you_mean(name, names.iter().copied()) {
                Some(question) => draft.help(question),
                None => draft.help("`motorwright figure` lists every formula"),
            })
        })
    }

    fn gives(&mut self, formula: &Formula, inputs: &[FactId], at: &At<'_>) -> Result<Dimension, Said> {
        let mut dimensions = Vec::with_capacity(inputs.len());
        for &fact in inputs {
            let Some(dimension) = self.dimension(fact)? else {
                let title = format!("`{}` is chosen, not measured", self.fact(fact)?.id);
                let draft = at.draft(Code::WrongQuantity, title);
                return Err(self.say(draft.help("a formula works on quantities")));
            };
            dimensions.push(dimension);
        }
        formula.typed(&dimensions).map_err(|mismatch| {
            let wants: Vec<&str> = formula.inputs().iter().map(Input::name).collect();
            let draft = at.draft(Code::WrongQuantity, mismatch.to_string());
            self.say(draft.help(format!("its inputs, in order: {}", wants.join(", "))))
        })
    }
}
