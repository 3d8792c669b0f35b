//! What is joined at an endpoint.

use super::topology::{House, Node};
use crate::findings::Lack;
use crate::plan::Service;

/// Runs of one service that are joined at an endpoint.
#[derive(Debug)]
pub struct Joint {
    pub service: Service,
    pub runs: Vec<usize>,
}

impl House<'_> {
    /// Whether an endpoint joins two or more runs of one service, without spares, which are
    /// connected to nothing.
    ///
    /// # Errors
    /// What a run carries is not known, and it may be joined.
    pub fn is_joint(&self, endpoint: usize) -> Result<bool, Lack> {
        let mut counts = [0_u32; Service::WORDS.len()];
        let (mut most, mut unknown) = (0, None);
        for run in self.runs_at(Node::of_endpoint(endpoint)) {
            if self.is_spare(run) {
                continue;
            }
            match self.service(run) {
                Some(service) => {
                    counts[service as usize] += 1;
                    most = most.max(counts[service as usize]);
                }
                None => {
                    if unknown.is_some() {
                        // Two of which nothing is known are two ends in one box, at the least.
                        most = most.max(1);
                    }
                    unknown = unknown.or(Some(run));
                }
            }
        }
        match unknown {
            _ if most >= 2 => Ok(true),
            Some(run) if most >= 1 => Err(self.want_service(run).err().unwrap_or(Lack::Reported)),
            _ => Ok(false),
        }
    }

    /// The gravest joint at an endpoint: that of power, else that of most runs. In the plan's order.
    pub fn joint(&self, endpoint: usize) -> Option<Joint> {
        let mut by_service: Vec<Joint> = Vec::new();
        for run in self.runs_at(Node::of_endpoint(endpoint)) {
            let Some(service) = self.service(run).filter(|_| !self.is_spare(run)) else {
                continue;
            };
            match by_service.iter_mut().find(|joint| joint.service == service) {
                Some(joint) => joint.runs.push(run),
                None => by_service.push(Joint {
                    service,
                    runs: vec![run],
                }),
            }
        }
        let rank = |joint: &Joint| (joint.service == Service::Power, joint.runs.len());
        let mut joint = by_service
            .into_iter()
            .filter(|joint| joint.runs.len() >= 2)
            .max_by_key(rank)?;
        joint.runs.sort_unstable();
        Some(joint)
    }
}
