//! Figures of analogue lines.

use super::quantity::Collector;
use crate::figures::Figure;
use crate::figures::corner::CornerFrequency;
use crate::findings::Lack;
use crate::plan::Service;

impl Collector<'_, '_> {
    /// The corner of each line, those to subwoofers as well; one that branches has one corner for
    /// all its cable.
    pub(super) fn corners(&mut self) {
        let house = self.house;
        for line in house.lines_of(Service::Line) {
            let runs: Vec<usize> = line.steps.iter().map(|step| step.run as usize).collect();
            let on = || runs.iter().map(|run| house.plan.runs[*run].id.clone());
            match house.corner(line) {
                Ok(corner) => {
                    let estimated = self.estimated(&runs);
                    self.add(on().collect(), estimated, Ok::<_, Lack>(corner));
                }
                Err(lacks) => {
                    for (_, lack) in lacks {
                        self.lacks(CornerFrequency::NAME, on().collect(), lack);
                    }
                }
            }
        }
    }
}
