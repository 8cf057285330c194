"""Each way in which a build-up can disappoint, judged by chance of failure."""

from earthfast.checks.build_up import BuildUp, Course, Material, Method, Way

__all__ = ["BuildUp", "Course", "Material", "Method", "Way"]
