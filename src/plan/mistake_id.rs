//! The mistakes of ids: unfit, given twice, or named and not there.

use super::reader::Reader;
use super::refs::{Sort, Thing};
use super::spelling::near;
use super::wording::{LONGEST_ID, is_plain, is_unseen, shown};
use crate::findings::{Mark, RedlineKind};
use crate::yaml::{NodeId, Span};

impl Reader<'_> {
    pub(super) fn duplicate_id(&mut self, key: NodeId, name: &str, first: Span) {
        let says = format!(
            "the id `{}` is given to two things; references go to the first",
            shown(name)
        );
        if let Some(finding) = self.report("plan.duplicate-id", key, says, "second use of the id") {
            finding.put_right =
                Some("one id names one thing in the whole plan: rename one of them".into());
            if finding.marks.iter().all(|mark| mark.span != first) {
                finding.marks.push(Mark {
                    span: first,
                    label: "first use of the id".into(),
                });
            }
        }
    }

    /// The thing that is surely meant by a name with a slip in it: by that it is read, so that the run does not
    /// go nowhere and the thing is not said to lack it. What is let pass is never guessed.
    pub(super) fn no_such_id(
        &mut self,
        node: NodeId,
        name: &str,
        wants: &str,
        sorts: &'static [Sort],
        found: Option<Thing>,
    ) -> Option<Thing> {
        if let Some(found) = found {
            let (_, is) = found.sort.words();
            let says = format!(
                "{} is `{}`, which is {is}, not {wants}",
                self.subject(),
                shown(name)
            );
            if let Some(finding) = self.report("plan.no-such-id", node, says, "wrong sort of thing")
            {
                finding.put_right = Some(format!("name {wants} of this plan"));
            }
            return None;
        }
        let says = format!(
            "{} is `{}`, and no such thing is in the plan",
            self.subject(),
            shown(name)
        );
        let things = self.things;
        // All names are looked through, whatever their sort.
        self.guesses = self.guesses.saturating_sub(things.len());
        let near = if self.guesses == 0 {
            None
        } else {
            near(name, things.names(sorts))
        };
        let redline = near
            .as_ref()
            .and_then(|near| near.only())
            .filter(|word| is_plain(word))
            .and_then(|word| {
                self.replacing(node, word, RedlineKind::Change, format!("write `{word}`"))
            });
        let meant = near
            .as_ref()
            .filter(|near| near.is_sure(name) && sorts.len() < Sort::ALL.len())
            .and_then(|near| things.get(near.only()?));
        if let Some(finding) = self.report("plan.no-such-id", node, says, "names nothing") {
            finding.put_right = Some(match near {
                Some(near) => near.advice(meant.is_some()),
                None => format!("name {wants} of this plan, or add it"),
            });
            finding.redlines.extend(redline);
        }
        meant
    }

    pub(super) fn bad_id(&mut self, node: NodeId, name: &str) {
        let fault = if name.is_empty() {
            "is empty".to_owned()
        } else if name.chars().any(is_unseen) {
            format!("`{}` has characters in it that cannot be seen", shown(name))
        } else {
            format!("`{}` is longer than {LONGEST_ID} characters", shown(name))
        };
        let says = format!("an id {fault}");
        if let Some(finding) = self.report("plan.unreadable", node, says, "this id") {
            finding.put_right = Some("write a short name, such as S4".into());
        }
    }
}
