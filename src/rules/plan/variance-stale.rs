//! A variance that has nothing to let pass any more.

use crate::findings::{Finding, Id, Lack, Report};
use crate::house::{House, Outcome};
use crate::plan::{Stated, Variance, nearest};
use crate::rules::{READING, RULES, Sheet, sheet};
use crate::yaml::Span;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, own: &Sheet, out: &mut Report) {
    let Some(outcomes) = house.outcomes() else {
        return;
    };
    for (variance, of) in house.plan.variances.iter().zip(&outcomes.of) {
        if variance.rule.is_bad() || variance.on.is_bad() || variance.until.is_bad() {
            continue;
        }
        let case = Case {
            house,
            own,
            variance,
        };
        let until = variance.until.stated();
        if let Some(slip) = case.names_nothing() {
            out.checked();
            out.find(slip);
        } else if let (Some(until), Some(today)) = (until, outcomes.today)
            && until.value < today
        {
            out.checked();
            let says = format!("{} ended on {}, today is {today}", case.name(), until.value);
            let words =
                "settle the matter again: put it right, or give another day and the reason for it";
            let finding = case.finding(says, until.span, "it is past");
            out.find(finding.with_put_right(words));
        } else {
            if until.is_some() && outcomes.today.is_none() {
                let lack = Lack::absent("the day of the review");
                out.gap(own.id, &case.first(), lack);
            }
            case.things(of, out);
        }
    }
}

struct Case<'a, 'p> {
    house: &'a House<'p>,
    own: &'a Sheet,
    variance: &'a Stated<Variance>,
}

impl Case<'_, '_> {
    fn first(&self) -> Id {
        let on = self.variance.on.value().and_then(|on| on.0.first());
        on.map_or_else(
            || Id::new("plan"),
            |thing| self.house.plan.id(thing.value.thing).clone(),
        )
    }

    fn rule(&self) -> &str {
        self.variance.rule.value().map_or("", |rule| rule)
    }

    /// The variance in words.
    fn name(&self) -> String {
        match self.variance.on.value().is_some() {
            true => format!("the variance of {} on {}", self.rule(), self.first()),
            false => format!("the variance of {}", self.rule()),
        }
    }

    fn finding(&self, says: String, at: Span, label: &str) -> Finding {
        let finding = self.own.finding(&self.first(), says, at, label);
        let mut finding = finding.with_about(self.rule());
        for thing in self
            .variance
            .on
            .value()
            .into_iter()
            .flat_map(|on| on.values())
        {
            finding = finding.with_on(self.house.plan.id(thing.thing));
        }
        finding
    }

    /// The finding of a variance that names no rule, an unknown one, or no thing.
    fn names_nothing(&self) -> Option<Finding> {
        let whole = self.variance.span;
        let Some(rule) = self.variance.rule.stated() else {
            let says = format!("a variance on {} names no rule", self.first());
            return Some(self.finding(says, whole, "no rule"));
        };
        let (name, at) = (&*rule.value.0, rule.span);
        if sheet(name).is_none() {
            let rules = RULES.iter().map(|rule| rule.id);
            let known = rules.chain(READING.iter().map(|sheet| sheet.id));
            let says = format!("{} names no rule of the rulebook", self.name());
            let finding = self.finding(says, at, "no such rule");
            return Some(match nearest(name, known) {
                Some((near, _)) => {
                    finding.with_put_right(format!("write `{near}`, or take it out"))
                }
                None => finding,
            });
        }
        if self.variance.on.value().is_none_or(|on| on.0.is_empty()) {
            let says = format!("{} names nothing that it is on", self.name());
            return Some(self.finding(says, at, "on nothing"));
        }
        None
    }

    /// Each thing that the variance names: whether there is a finding on it.
    fn things(&self, of: &[Outcome], out: &mut Report) {
        let things = self
            .variance
            .on
            .value()
            .into_iter()
            .flat_map(|on| on.iter());
        for (thing, outcome) in things.zip(of) {
            let id = self.house.plan.id(thing.value.thing);
            match outcome {
                Outcome::Matched { .. } => out.checked(),
                Outcome::Unjudged(lack) => out.gap(self.own.id, id, Lack::absent(lack.clone())),
                Outcome::Nothing => {
                    out.checked();
                    let says = format!(
                        "{} finds nothing on {id} that could be let pass",
                        self.rule()
                    );
                    let mut finding = self
                        .own
                        .finding(id, says, thing.span, "nothing is found here")
                        .with_about(self.rule());
                    if let Some(rule) = self.variance.rule.span() {
                        finding = finding.with_mark(rule, "by this rule");
                    }
                    out.find(finding.with_put_right(format!(
                        "take {id} out of the variance of {}",
                        self.rule()
                    )));
                }
            }
        }
    }
}
