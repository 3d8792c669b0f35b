//! A passive speaker that no speaker run reaches.

use crate::findings::Report;
use crate::house::{House, Node, is_passive_speaker};
use crate::plan::Service;
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    for (index, speaker) in house.plan.endpoints.iter().enumerate() {
        if !is_passive_speaker(speaker) || speaker.active.is_bad() {
            continue;
        }
        // Its own, its members', and those of the box or cabinet that it stands in or of the plate beside it.
        let mut around = house.landings(index, house.beside()).into_iter();
        let (mut spare, mut unknown) = (None, None);
        let reached = around.any(|at| {
            let node = Node::of_endpoint(at);
            house
                .runs_at(node)
                .any(|run| match (house.want_service(run), house.is_spare(run)) {
                    (Ok(Service::Speaker), true) => {
                        spare = spare.or(Some(run));
                        false
                    }
                    (Ok(service), false) => service == Service::Speaker,
                    (Err(lack), false) => {
                        unknown.get_or_insert(lack);
                        false
                    }
                    (_, true) => false,
                })
        });
        if let (false, Some(lack)) = (reached, unknown) {
            out.gap(sheet.id, &speaker.id, lack);
            continue;
        }
        out.checked();
        if reached {
            continue;
        }
        let says = match spare {
            Some(run) => format!(
                "{} has no speaker run but the spare {}, which is connected to nothing",
                speaker.id, house.plan.runs[run].id
            ),
            None => format!("{} has no speaker run, 1 is needed", speaker.id),
        };
        let mut finding =
            sheet.finding(&speaker.id, says, speaker.span, "no speaker run ends here");
        if let Some(run) = spare {
            let run = &house.plan.runs[run];
            finding = finding
                .with_on(&run.id)
                .with_mark(run.spare.span().unwrap_or(run.span), "a spare only")
                .with_put_right(format!(
                    "pull a run to {}, or connect {} and take its `spare` out",
                    speaker.id, run.id
                ));
        }
        out.find(finding);
    }
}
