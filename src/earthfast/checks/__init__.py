"""Each way in which a build-up can disappoint, judged by chance of failure."""
