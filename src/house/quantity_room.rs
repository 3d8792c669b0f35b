//! Figures of pictures and of rooms.

use super::quantity::Collector;
use crate::findings::Lack;
use crate::plan::EndpointKind;

impl Collector<'_, '_> {
    pub(super) fn pictures(&mut self, compression: Result<f64, Lack>) {
        let house = self.house;
        for endpoint in &house.plan.endpoints {
            let shows = matches!(
                endpoint.kind.value(),
                Some(EndpointKind::Projector | EndpointKind::Display)
            );
            if !shows && endpoint.picture.is_absent() {
                continue;
            }
            let ratio = compression.clone();
            let rate = ratio
                .and_then(|ratio| house.video_rate(endpoint, ratio))
                .map(|(rate, _)| rate);
            self.add(vec![endpoint.id.clone()], false, rate);
        }
    }
}
