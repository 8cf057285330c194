"""The job's five questions, one function each."""
