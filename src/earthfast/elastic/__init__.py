"""Layered elasticity, loads on a half-space, slabs on ground."""

from earthfast.elastic.circle_axis import (
    axis_deflection,
    axis_depth_of_stress,
    axis_radial_strain,
    axis_radial_stress,
    axis_vertical_strain,
    axis_vertical_stress,
    edge_deflection,
    mean_deflection,
    rigid_disc_deflection,
)
from earthfast.elastic.half_space import half_space_response
from earthfast.elastic.layered import layered_response
from earthfast.elastic.layered_ground import (
    CircularLoad,
    LayeredGround,
    Points,
    points_in_layers,
)
from earthfast.elastic.load_spread import (
    cone_stress_circle,
    cone_stress_rectangle,
    equivalent_cone,
    equivalent_thickness,
)
from earthfast.elastic.rectangle import (
    finite_layer_corner_factor,
    rectangle_corner_factor,
    rectangle_corner_influence,
    rectangle_mean_factor,
    rectangle_settlement,
    rectangle_vertical_stress,
    steinbrenner_first_factor,
    steinbrenner_second_factor,
)
from earthfast.elastic.response import (
    CartesianResponse,
    Response,
)
from earthfast.elastic.slab import (
    equivalent_contact_radius,
    radius_of_relative_stiffness,
    slab_interior_deflection,
    slab_interior_stress,
    slab_interior_stress_supplement,
)
from earthfast.elastic.slab_edges import (
    slab_corner_deflection,
    slab_corner_deflection_ioannides,
    slab_corner_stress,
    slab_corner_stress_ioannides,
    slab_edge_deflection,
    slab_edge_stress,
)
from earthfast.elastic.superposition import superpose

__all__ = [
    "CartesianResponse",
    "CircularLoad",
    "LayeredGround",
    "Points",
    "Response",
    "axis_deflection",
    "axis_depth_of_stress",
    "axis_radial_strain",
    "axis_radial_stress",
    "axis_vertical_strain",
    "axis_vertical_stress",
    "cone_stress_circle",
    "cone_stress_rectangle",
    "edge_deflection",
    "equivalent_cone",
    "equivalent_contact_radius",
    "equivalent_thickness",
    "finite_layer_corner_factor",
    "half_space_response",
    "layered_response",
    "mean_deflection",
    "points_in_layers",
    "radius_of_relative_stiffness",
    "rectangle_corner_factor",
    "rectangle_corner_influence",
    "rectangle_mean_factor",
    "rectangle_settlement",
    "rectangle_vertical_stress",
    "rigid_disc_deflection",
    "slab_corner_deflection",
    "slab_corner_deflection_ioannides",
    "slab_corner_stress",
    "slab_corner_stress_ioannides",
    "slab_edge_deflection",
    "slab_edge_stress",
    "slab_interior_deflection",
    "slab_interior_stress",
    "slab_interior_stress_supplement",
    "steinbrenner_first_factor",
    "steinbrenner_second_factor",
    "superpose",
]
