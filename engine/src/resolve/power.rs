//! The rules of power, and which facts and endings play which part in a call.

use super::{At, Resolver, all};
use crate::finding::{Code, Said, did_you_mean, listed};
use crate::parsed::power::{FactIs, HoldOffDoc, PowerBody};
use crate::quantity::{Dimension, Quantity};
use crate::rulebook::{
    ChoiceSet, EndingId, FactId, HoldOff, PowerRules, PowerStepKind, PowerWords, Roles, Station,
};

const SECONDS_A_MINUTE: f64 = 60.0;

impl Resolver<'_> {
    pub(super) fn power(&mut self) -> Result<PowerRules, Said> {
        let doc = self.only(&self.parsed.powers, "power")?;
        let top = At::top(&doc.gated);
        let at = top.key("power");
        let body = &doc.body.power;
        let proved_dead = self.fact_id(&body.proved_dead, &at.key("proved dead"));
        let sources = self.fact_of(&body.supply_sources, Some(Dimension::Count), &at.key("supply sources"));
        let stored_charge =
            self.fact_of(&body.stored_charge, Some(Dimension::Time), &at.key("stored charge"));
        let live_work = self.fact_is(&body.live_work, &at.key("live work"));
        let words = self.words(body, &at.key("words"));
        let hold_offs_at = at.key("hold offs");
        let hold_offs =
            all(body.hold_offs.iter().map(|(id, doc)| self.hold_off(id, doc, &hold_offs_at.key(id))));
        let stored_charge = stored_charge?;
        Ok(PowerRules {
            proved_dead: proved_dead?,
            sources: sources?,
            stored_charge,
            live_work: live_work?,
            longest_wait: self.longest_wait(stored_charge, &at.key("stored charge"))?,
            stations: body
                .stations
                .iter()
                .map(|(id, name)| Station { id: id.clone(), name: name.clone() })
                .collect(),
            words: words?,
            hold_offs: hold_offs?,
        })
    }

    fn fact_of(&mut self, name: &str, dimension: Option<Dimension>, at: &At<'_>) -> Result<FactId, Said> {
        let fact = self.fact_id(name, at)?;
        if self.dimension(fact)? == dimension {
            return Ok(fact);
        }
        let wanted = dimension.map_or("choices", Dimension::plain);
        Err(self.say(
            at.draft(Code::WrongQuantity, format!("`{name}` has the wrong kind of answer here"))
                .help(format!("use a reading of {wanted}")),
        ))
    }

    fn fact_is(&mut self, doc: &FactIs, at: &At<'_>) -> Result<(FactId, ChoiceSet), Said> {
        let fact = self.fact_id(&doc.fact, &at.key("fact"))?;
        let choice = self.choice(fact, &doc.is, &at.key("is"))?;
        Ok((fact, choice))
    }

    /// The longest wait that any profile gives, for a motor whose own is not known; where none gives any, the longest
    /// that may be read.
    fn longest_wait(&mut self, stored_charge: FactId, at: &At<'_>) -> Result<f64, Said> {
        let fact = self.fact(stored_charge)?;
        let given = fact.given.iter().filter_map(|given| given.is.quantity()).map(Quantity::base);
        let longest = given.reduce(f64::max).or_else(|| Some(fact.expected()?.range()?.1.base()));
        if let Some(wait) = longest {
            return Ok(wait / SECONDS_A_MINUTE);
        }
        // What gives it may be among what was told of already; with any of that no call is made.
        if !self.findings.is_empty() {
            return Ok(0.0);
        }
        let title = format!("nothing says how long `{}` may be", fact.id);
        let draft = at.draft(Code::MissingKey, title);
        Err(self.say(draft.help("give the reading a `range`, or each motor in `profiles` its own wait")))
    }

    fn words(&mut self, body: &PowerBody, at: &At<'_>) -> Result<Vec<PowerWords>, Said> {
        let keys: Vec<&str> = PowerStepKind::ALL.iter().map(|kind| kind.key()).collect();
        for name in body.words.keys().filter(|name| !keys.contains(&name.as_str())) {
            let draft = at.key(name).draft_key(Code::UnknownKey, format!("no routine has a step `{name}`"));
            self.say(match did_you_mean(name, keys.iter().copied()) {
                Some(question) => draft.help(question),
                None => draft.help(format!("expected {}", listed(&keys))),
            });
        }
        all(PowerStepKind::ALL.into_iter().map(|kind| {
            let Some(doc) = body.words.get(kind.key()) else {
                let draft = at.draft_key(Code::MissingKey, format!("no words for the step `{}`", kind.key()));
                return Err(self.say(draft.help("give it `say` and `how`")));
            };
            let at = at.key(kind.key());
            self.placeholders(kind, &doc.say, &at.key("say"));
            let cautions = self.cautions(&doc.cautions, &at.key("cautions"))?;
            Ok(PowerWords {
                say: doc.say.clone(),
                acts: doc.acts.clone(),
                how: doc.how.clone(),
                minutes: doc.minutes,
                cautions,
            })
        }))
    }

    /// Places in the words, such as `{source}`, that nothing would fill.
    fn placeholders(&mut self, kind: PowerStepKind, say: &str, at: &At<'_>) {
        let known = kind.placeholders();
        for part in say.split('{').skip(1) {
            let name = part.split('}').next().unwrap_or_default();
            if known.contains(&name) {
                continue;
            }
            let draft = at.draft(Code::UnknownPlaceholder, format!("nothing fills `{{{name}}}` here"));
            self.say(if known.is_empty() {
                draft.help(format!("the step `{}` has no places to fill: write the words out", kind.key()))
            } else {
                draft.help(format!("what is filled here: {}", known.join(", ")))
            });
        }
    }

    fn hold_off(&mut self, id: &str, doc: &HoldOffDoc, at: &At<'_>) -> Result<HoldOff, Said> {
        let when = self.conditions(&doc.when, &at.key("when"));
        let until = self.conditions(&doc.until, &at.key("until"));
        Ok(HoldOff { id: id.to_owned(), when: when?, until: until?, because: doc.because.clone() })
    }

    pub(super) fn roles(&mut self) -> Result<Roles, Said> {
        let doc = self.only(&self.parsed.calls, "call")?;
        let top = At::top(&doc.gated);
        let at = top.key("call");
        let body = &doc.body.call;
        let start = self.tree_id(&body.start, &at.key("start"));
        let complaint = self.fact_of(&body.complaint, None, &at.key("complaint"));
        let checks = self.complaints(&body.checks, &at.key("checks"));
        let gone = self.fact_is(&body.complaint_gone, &at.key("complaint gone"));
        let danger_at = at.key("danger");
        let danger = self.fact_id(&body.danger.fact, &danger_at.key("fact")).and_then(|fact| {
            let safe = self.choice(fact, &body.danger.safe, &danger_at.key("safe"))?;
            let undoes_at = danger_at.key("undoes dead");
            let undoes = all(body
                .danger
                .undoes_dead
                .iter()
                .enumerate()
                .map(|(index, word)| self.choice(fact, word, &undoes_at.index(index))))?;
            let undoes = undoes.into_iter().fold(ChoiceSet::default(), ChoiceSet::with);
            Ok(((fact, safe), undoes))
        });
        let endings_at = at.key("endings");
        let mut ending =
            |name: &str, key: &str| -> Result<EndingId, Said> { self.ending_id(name, &endings_at.key(key)) };
        let cannot_prove_dead = ending(&body.endings.cannot_prove_dead, "cannot prove dead");
        let same_fault_again = ending(&body.endings.same_fault_again, "same fault again");
        let not_enough_readings = ending(&body.endings.not_enough_readings, "not enough readings");
        let left = ending(&body.endings.left, "left");
        Ok(Roles {
            start: start?,
            complaint: complaint?,
            gone: gone?,
            checks: checks?,
            danger: danger?.0,
            undoes_dead: danger?.1,
            cannot_prove_dead: cannot_prove_dead?,
            same_fault_again: same_fault_again?,
            not_enough_readings: not_enough_readings?,
            left: left?,
        })
    }
}
