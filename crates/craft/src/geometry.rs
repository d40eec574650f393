//! What of a craft depends on the shape of its hull alone: found once, and shared by likely variations of a boat.

use std::sync::Arc;

use form::{Columns, Form, RunningSurface};

use crate::added_mass::Sections;
use crate::craft::SharedSurfaces;
use crate::elements::surface::Surface;
use crate::elements::topsides::{Slices, slices};
use crate::elements::underside::Underside;

/// Sections, running surfaces and underside of one hull.
#[derive(Debug)]
pub(crate) struct Geometry {
    columns: Arc<Columns>,
    found: Vec<RunningSurface>,
    /// See [`Surface`].
    pub surfaces: SharedSurfaces,
    /// See [`Sections`].
    pub sections: Arc<Sections>,
    /// Of the sections, what no running surface stands for.
    pub slices: Slices,
    /// See [`Underside`].
    pub underside: Underside,
}

impl Geometry {
    /// Of a hull.
    pub fn of(form: &Form) -> Self {
        let surfaces: SharedSurfaces = Arc::new(
            (form.surfaces.iter().enumerate())
                .map(|(index, found)| Surface::new(found).numbered(index))
                .collect(),
        );
        let sections = Arc::new(Sections::of(&form.columns));
        Self {
            columns: Arc::clone(&form.columns),
            found: form.surfaces.clone(),
            slices: slices(&sections, &surfaces),
            surfaces,
            sections,
            underside: Underside::of(&form.columns),
        }
    }

    /// Whether it is this hull's.
    pub fn is_of(&self, form: &Form) -> bool {
        Arc::ptr_eq(&self.columns, &form.columns) && self.found == form.surfaces
    }
}
